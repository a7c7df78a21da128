"use strict";
// Sorts and filters the shelf's table. Without it the page has the same content.
(function () {
  var table = document.getElementById("shelf"), form = document.getElementById("find");
  if (!table || !form) return;
  var body = table.tBodies[0], rows = Array.prototype.slice.call(body.rows);
  var said = document.getElementById("found"), words = form.elements.words, kind = form.elements.kind;
  form.hidden = false;
  form.addEventListener("submit", function (e) { e.preventDefault(); });

  function value(row, i) { return row.cells[i].getAttribute("data-v"); }

  Array.prototype.forEach.call(table.tHead.rows[0].cells, function (head, i) {
    var button = document.createElement("button");
    button.type = "button";
    while (head.firstChild) button.appendChild(head.firstChild);
    head.appendChild(button);
    var numeric = head.classList.contains("num");
    button.addEventListener("click", function () {
      var falling = head.getAttribute("aria-sort") === "ascending";
      Array.prototype.forEach.call(table.tHead.rows[0].cells, function (h) { h.removeAttribute("aria-sort"); });
      head.setAttribute("aria-sort", falling ? "descending" : "ascending");
      rows.sort(function (a, b) {
        var v = value(a, i), w = value(b, i);
        if (v === w) return 0;
        if (v === "") return 1; // what is not known comes last
        if (w === "") return -1;
        var u = a.cells[i].getAttribute("data-u") || "", z = b.cells[i].getAttribute("data-u") || "";
        if (u !== z) return u < z ? -1 : 1; // currencies are not compared
        var n = numeric ? Number(v) - Number(w) : v.localeCompare(w, "en", { numeric: true, sensitivity: "base" });
        return falling ? -n : n;
      });
      rows.forEach(function (r) { body.appendChild(r); });
    });
  });

  function filter() {
    var want = words.value.toLowerCase().split(/\s+/).filter(Boolean), n = 0;
    rows.forEach(function (r) {
      var text = r.textContent.toLowerCase();
      var keep = (kind.value === "" || r.getAttribute("data-kind").split(" ").indexOf(kind.value) >= 0) &&
        want.every(function (w) { return text.indexOf(w) >= 0; });
      r.hidden = !keep;
      if (keep) n++;
    });
    said.textContent = n + " of " + rows.length + " records";
  }
  words.addEventListener("input", filter);
  kind.addEventListener("change", filter);
  filter();
})();
