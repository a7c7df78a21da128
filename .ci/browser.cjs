// Opens the published pages in a headless browser, from files and with no way out,
// and checks what a reader depends on. Run by .ci/run, which installs the
// packages; arguments: the folder of the packages, the browser, the shelf's page,
// a cable's page, and a folder for screenshots and PDFs.
"use strict";
const fs = require("fs"), path = require("path"), os = require("os");
const [modules, browser, shelfFile, cableFile, out] = process.argv.slice(2);
const need = (name) => path.join(modules, "node_modules", name);
const { chromium } = require(need("playwright-core"));
const axeSource = fs.readFileSync(path.join(need("axe-core"), "axe.min.js"), "utf8");

let checks = 0, failed = 0;
function check(what, ok, detail) {
  checks++;
  if (!ok) { failed++; console.log("FAILED " + what + (detail === undefined ? "" : ": " + JSON.stringify(detail))); }
}

async function open(options, f) {
  const profile = fs.mkdtempSync(path.join(os.tmpdir(), "gainsay-browser-"));
  const context = await chromium.launchPersistentContext(profile, Object.assign({
    executablePath: browser, headless: true,
    args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
      "--disable-component-update", "--disable-sync", "--host-resolver-rules=MAP * ~NOTFOUND"],
  }, options));
  try {
    const page = context.pages()[0] || await context.newPage();
    page.on("request", (r) => check("the page asks for nothing but itself", r.url().startsWith("file:") || expectViolation, r.url()));
    page.on("pageerror", (e) => check("no error in the script", false, e.message));
    page.on("console", (m) => check("nothing on the console", m.type() !== "error" || expectViolation, m.text()));
    await f(page);
  } finally {
    await context.close();
    fs.rmSync(profile, { recursive: true, force: true });
  }
}

let expectViolation = false;
const url = (file) => "file://" + path.resolve(file);
const column = (page, name) => page.evaluate((name) => {
  dispatchEvent(new Event("beforeprint")); // all rows stand in the page then
  const heads = Array.from(document.querySelectorAll("#shelf thead th"));
  const i = heads.findIndex((h) => h.textContent.trim() === name);
  return Array.from(document.querySelectorAll("#shelf tbody tr")).filter((r) => !r.hidden).map((r) => r.cells[i].getAttribute("data-v") || r.cells[i].textContent.replace("–", ""));
}, name);
const rising = (vs) => vs.every((v, i) => i === 0 || vs[i - 1] <= v);

async function accessible(page, what) {
  await page.evaluate(axeSource);
  const result = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  check(what + ": the checker looked", result.passes.length > 20, result.passes.length);
  for (const v of result.violations) check(what + ": " + v.id, false, { impact: v.impact, help: v.help, at: v.nodes.slice(0, 3).map((n) => n.target.join(" ")) });
}

async function fits(page, what) {
  const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  check(what + ": nothing stands out to the side", over <= 0, over);
}

async function main() {
  await open({}, async (page) => {
    await page.setViewportSize({ width: 1200, height: 900 });
    await page.goto(url(shelfFile));
    const all = await column(page, "Cable");
    check("the shelf has its rows", all.length === 60, all.length);

    // Sorting: numbers as numbers, what is not known last, both ways.
    const button = page.getByRole("button", { name: "VBUS" });
    await button.click();
    let vs = await column(page, "VBUS"), known = vs.filter((v) => v !== "").map(Number);
    check("rising", rising(known) && known.length > 50, vs);
    check("not known comes last", vs.slice(known.length).every((v) => v === "") && known.length < vs.length, vs);
    check("aria-sort says rising", await page.locator("th[aria-sort=ascending]").count() === 1);
    await button.focus();
    await page.keyboard.press("Enter");
    vs = await column(page, "VBUS");
    known = vs.filter((v) => v !== "").map(Number);
    check("falling, by the keyboard", rising(known.slice().reverse()), vs);
    check("not known comes last, falling", vs[vs.length - 1] === "", vs);
    check("aria-sort says falling", await page.locator("th[aria-sort=descending]").count() === 1);
    await page.getByRole("button", { name: "Cable" }).click();
    check("text sorts", rising(await column(page, "Cable")) && (await column(page, "Cable")).length === 60);

    // Filtering.
    const words = page.getByLabel("Rows with these words"), kind = page.getByRole("combobox"), found = page.locator("#found");
    await words.fill("ostrefel nf-t");
    check("filtered by words", (await column(page, "Cable")).length === 20 && (await found.textContent()) === "20 of 60 records", await found.textContent());
    await kind.selectOption("contradicted");
    const both = await column(page, "Cable");
    check("filtered by both", both.length === 18 && both.every((c) => c.startsWith("NF-3")), both);
    await words.fill("no such row");
    check("none is found", (await found.textContent()) === "0 of 60 records");
    await words.fill("");
    await kind.selectOption("unsettled");
    check("not settled", (await column(page, "Cable")).length === 4, await column(page, "Cable"));
    await kind.selectOption("");
    check("all again", (await column(page, "Cable")).length === 60);

    await page.screenshot({ path: path.join(out, "shelf-light.png"), fullPage: true });
    await page.pdf({ path: path.join(out, "shelf.pdf"), format: "A4" });
    await accessible(page, "the shelf, light");
    await page.emulateMedia({ colorScheme: "dark" });
    await page.screenshot({ path: path.join(out, "shelf-dark.png"), fullPage: true });
    await accessible(page, "the shelf, dark");
    for (const width of [390, 320]) {
      await page.setViewportSize({ width, height: 844 });
      await fits(page, "the shelf at " + width);
    }
    await page.screenshot({ path: path.join(out, "shelf-phone.png"), fullPage: true });
    await accessible(page, "the shelf on a phone");

    // The policy: even a script that got in could send nothing out.
    expectViolation = true;
    const blocked = await page.evaluate(() => new Promise((done) => {
      document.addEventListener("securitypolicyviolation", (e) => done(e.effectiveDirective));
      const i = new Image();
      i.src = "http://gainsay.invalid/x.png";
      document.body.appendChild(i);
      setTimeout(() => done(""), 2000);
    }));
    expectViolation = false;
    check("the policy forbids to load", blocked === "img-src", blocked);
  });

  await open({ javaScriptEnabled: false }, async (page) => {
    await page.goto(url(shelfFile));
    check("without script: every row", await page.locator("#shelf tbody tr").count() === 60);
    check("without script: no form that does nothing", await page.locator("#find").isHidden());
  });

  await open({}, async (page) => {
    await page.setViewportSize({ width: 1200, height: 900 });
    await page.goto(url(cableFile));
    check("the cable's page has its landmarks", await page.locator("main").count() === 1 && await page.locator("header").count() >= 1 && await page.locator("footer").count() === 1);
    check("its pictures say what they show", await page.locator("svg[role=img][aria-label]").count() >= 7);
    await page.screenshot({ path: path.join(out, "cable-light.png"), fullPage: true });
    await page.pdf({ path: path.join(out, "cable.pdf"), format: "A4" });
    await accessible(page, "the cable, light");
    await page.emulateMedia({ colorScheme: "dark" });
    await page.screenshot({ path: path.join(out, "cable-dark.png"), fullPage: true });
    await accessible(page, "the cable, dark");
    for (const width of [390, 320]) {
      await page.setViewportSize({ width, height: 844 });
      await fits(page, "the cable at " + width);
    }
    await page.screenshot({ path: path.join(out, "cable-phone.png"), fullPage: true });
    await accessible(page, "the cable on a phone");
  });

  for (const name of ["shelf.pdf", "cable.pdf"]) {
    const pdf = fs.readFileSync(path.join(out, name)), text = pdf.toString("latin1");
    check(name + " is a PDF of pages", text.startsWith("%PDF-") && pdf.length > 20000 && /\/Type\s*\/Page\b/.test(text), pdf.length);
  }
  console.log(`${checks} checks, ${failed} failed`);
  process.exit(failed || checks < 30 ? 1 : 0);
}
main().catch((e) => { console.log(e.stack); process.exit(1); });
