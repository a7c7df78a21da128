"use strict";
// Sorts and finds rows of the table. Only the first of them stand in the page at a time,
// so that both answer at once; the rest follow on scrolling, and all of them in print.
// Without it the page has the same content.
(function () {
  var table = document.getElementById("shelf"), form = document.getElementById("find");
  if (!table || !form) return;
  var body = table.tBodies[0], all = Array.prototype.slice.call(body.rows), kept = all, shown = 0;
  var said = document.getElementById("found"), words = form.elements.words, kind = form.elements.kind;
  var heads = Array.prototype.slice.call(table.tHead.rows[0].cells), sort = "", step = 40;
  var collator = new Intl.Collator("en", { numeric: true, sensitivity: "base" });
  form.hidden = false;
  form.addEventListener("submit", function (e) { e.preventDefault(); });

  var texts = all.map(function (r) { return r.textContent.toLowerCase() + " " + (r.getAttribute("data-n") || "").toLowerCase(); });
  var kinds = all.map(function (r) { return " " + r.getAttribute("data-kind") + " "; });
  all.forEach(function (r, i) { r.at = i; });
  var first = all.slice(); // in the order of the file, which at counts

  function more(n) {
    var part = document.createDocumentFragment(), to = Math.min(kept.length, shown + n);
    for (; shown < to; shown++) part.appendChild(kept[shown]);
    body.appendChild(part);
  }
  function show() {
    body.replaceChildren();
    shown = 0;
    more(step);
    said.textContent = kept.length + " of " + all.length + " records";
  }
  var end = document.createElement("div");
  table.parentNode.appendChild(end);
  new IntersectionObserver(function (seen) { if (seen[0].isIntersecting && shown < kept.length) more(step); }, { rootMargin: "800px" }).observe(end);
  addEventListener("beforeprint", function () { more(kept.length); });

  // The values of a column, in order of the rows at the start.
  var columns = {};
  function column(i) {
    return columns[i] || (columns[i] = first.map(function (r) {
      var c = r.cells[i], n = heads[i].classList.contains("num"), v = n ? c.getAttribute("data-v") : c.textContent;
      return { known: n ? v !== null : v !== "–", v: n ? Number(v) : v, unit: c.getAttribute("data-u") || "" };
    }));
  }
  function order() {
    var i = heads.findIndex(function (h) { return h.name === sort.replace(/^-/, ""); }), falling = sort[0] === "-";
    heads.forEach(function (h) { h.removeAttribute("aria-sort"); });
    if (i < 0) return;
    heads[i].setAttribute("aria-sort", falling ? "descending" : "ascending");
    var of = column(i), numeric = heads[i].classList.contains("num");
    all.sort(function (a, b) {
      var v = of[a.at], w = of[b.at];
      if (v.known !== w.known) return v.known ? -1 : 1; // what is not known comes last
      if (v.unit !== w.unit) return v.unit < w.unit ? -1 : 1; // currencies are not compared
      var n = numeric ? v.v - w.v : collator.compare(v.v, w.v);
      return (falling ? -n : n) || a.at - b.at;
    });
  }
  function filter() {
    var want = words.value.toLowerCase().split(/\s+/).filter(Boolean), k = kind.value ? " " + kind.value + " " : " ";
    kept = all.filter(function (r) {
      return kinds[r.at].indexOf(k) >= 0 && want.every(function (w) { return texts[r.at].indexOf(w) >= 0; });
    });
  }
  // The state stands in the address; a fragment without "=" is a cable's id.
  function keep() {
    var parts = [];
    if (words.value) parts.push("find=" + encodeURIComponent(words.value));
    if (sort) parts.push("sort=" + encodeURIComponent(sort));
    history.replaceState(null, "", parts.length ? "#" + parts.join("&") : location.pathname + location.search);
  }
  function restore() {
    var hash = location.hash.slice(1);
    if (hash.indexOf("=") >= 0) {
      hash.split("&").forEach(function (p) {
        var at = p.indexOf("="), v = decodeURIComponent(p.slice(at + 1));
        if (p.slice(0, at) === "find") words.value = v;
        if (p.slice(0, at) === "sort") sort = v;
      });
    }
    order(); filter(); show();
    if (hash && hash.indexOf("=") < 0 && hash.indexOf("gs-") !== 0) {
      var id = decodeURIComponent(hash), row = all.find(function (r) { return r.cells[0].textContent === id; });
      if (row) {
        more(Math.max(0, kept.indexOf(row) + 1 - shown));
        row.scrollIntoView({ block: "center" });
      }
    }
  }
  heads.forEach(function (head) {
    if (head.classList.contains("picture")) return;
    head.name = head.textContent.trim();
    var button = document.createElement("button");
    button.type = "button";
    while (head.firstChild) button.appendChild(head.firstChild);
    head.appendChild(button);
    button.addEventListener("click", function () {
      sort = (head.getAttribute("aria-sort") === "ascending" ? "-" : "") + head.name;
      order(); filter(); show(); keep();
    });
  });
  words.addEventListener("input", function () { filter(); show(); keep(); });
  kind.addEventListener("change", function () { filter(); show(); });
  addEventListener("hashchange", function () { if (location.hash.indexOf("#gs-") !== 0) restore(); });

  // What is found, as CSV; a text that a spreadsheet would take for a formula is quoted.
  document.getElementById("csv").addEventListener("click", function () {
    function cell(c) {
      var t = c.textContent.trim();
      if (/^[=+\-@\t]/.test(t)) t = "'" + t;
      return '"' + t.replace(/"/g, '""') + '"';
    }
    var rows = [table.tHead.rows[0]].concat(kept).map(function (r) { return Array.prototype.filter.call(r.cells, function (c) { return !c.classList.contains("picture"); }).map(cell).join(","); });
    var a = document.createElement("a");
    a.href = URL.createObjectURL(new Blob([rows.join("\r\n") + "\r\n"], { type: "text/csv" }));
    a.download = "cables.csv";
    a.click();
    setTimeout(function () { URL.revokeObjectURL(a.href); }, 1000);
  });
  restore();
})();
