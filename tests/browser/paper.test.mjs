// Paper: every kind of page printed on A4 and Letter, read back with pdftotext. What stood on the page
// stands on the sheets, each sheet says what it belongs to and which one it is, and none is empty.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileUrl, files, launch, open } from "./site.mjs";

let browser, folder;
before(async () => {
  browser = await launch();
  folder = mkdtempSync(join(tmpdir(), "garboard-paper-"));
});
after(async () => {
  await browser.close();
  rmSync(folder, { recursive: true });
});

const words = (text) => text.replace(/\s+/g, " ").trim();
const first = (beginning) => files.find((path) => path.startsWith(beginning) && path.endsWith(".html"));
const run = (program, ...args) => {
  const done = spawnSync(program, args, { encoding: "utf8" });
  assert.equal(done.status, 0, done.stderr || String(done.error));
  return done.stdout;
};

/** Sheets of a page as their words; the size of the paper is what was asked for. */
async function printed(page, format) {
  const path = join(folder, `${format}.pdf`);
  await page.pdf({ format, path });
  // ISO 216 and ANSI/ASME Y14.1, in points of 1/72 inch: 210 × 297 mm and 8.5 × 11 in.
  assert.match(run("pdfinfo", path), format === "A4" ? /Page size: +59[45]\.?\d* x 84[12]/ : /Page size: +612 x 792/);
  return run("pdftotext", "-layout", path, "-").split("\f").slice(0, -1).map(words);
}

/** Sheets at whose edge something is cut: text that reaches beyond the paper. */
function cut(format) {
  const boxes = run("pdftotext", "-bbox", join(folder, `${format}.pdf`), "-");
  return boxes.split("<page ").slice(1).flatMap((sheet, at) => {
    const [, width, height] = /width="([\d.]+)" height="([\d.]+)"/.exec(sheet);
    return [...sheet.matchAll(/xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)/g)]
      .filter(([, left, top, right, bottom]) => +left < 0 || +top < 0 || +right > +width || +bottom > +height)
      .map((word) => `sheet ${at + 1}: ${word[5]}`);
  });
}

const PAGES = ["index.html", "guides.html", "guides/oil-and-filter.html", "guides/rig-check-aloft.html", "guides/winch-service.html", first("passages/"), "provisions.html",
  first("provisions/passage-"), first("log/2026"), "pocket.html#oil-and-filter"];

for (const name of PAGES) {
  for (const format of ["A4", "Letter"]) {
    test(`${name} on ${format}`, async () => {
      const { context, page, trouble } = await open(browser);
      await page.goto(fileUrl(name.split("#")[0]) + (name.includes("#") ? `#${name.split("#")[1]}` : ""));
      const title = words(await page.locator("main h1").first().textContent());
      const boat = words(await page.locator(".top .boat").innerText());
      const acts = (await page.locator(".step .act").allTextContents()).map(words);
      const last = acts.at(-1);
      const sheets = await printed(page, format);
      assert.ok(sheets[0].includes(title.slice(0, 30)) || sheets[0].includes(title.split(" ").slice(0, 3).join(" ")), sheets[0].slice(0, 200));
      sheets.forEach((sheet, at) => {
        assert.ok(sheet.includes(`${boat} · `), `sheet ${at + 1} does not name the boat: ${sheet}`);
        assert.ok(sheet.endsWith(`${at + 1} / ${sheets.length}`) || sheet.includes(`${at + 1}/${sheets.length}`), `sheet ${at + 1}: ${sheet.slice(-80)}`);
        /* Beside the running title something stands on it. */
        assert.ok(sheet.length > 160, `sheet ${at + 1} is as good as empty: ${sheet}`);
      });
      if (last) {
        const end = last.split(" ").slice(-3).join(" ");
        assert.ok(words(sheets.join(" ")).includes(end), `the last step's words are missing: ${end}`);
      }
      assert.deepEqual(cut(format), []);
      assert.deepEqual(trouble, []);
      await context.close();
    });
  }
}

test("the address stands clear of the title block, whose cells are one row", async () => {
  const { context, page } = await open(browser, { viewport: { width: 688, height: 900 } });
  await page.emulateMedia({ media: "print" });
  for (const path of files.filter((path) => /^guides\/[^/]*\.html$/.test(path))) {
    await page.goto(fileUrl(path));
    const [address, cells] = await page.evaluate(() => [
      document.querySelector(".address")?.getBoundingClientRect().bottom ?? 0,
      [...document.querySelectorAll(".block > div")].map((cell) => cell.getBoundingClientRect().top),
    ]);
    if (!cells.length) continue;
    assert.ok(address > 0 && address <= cells[0], `${path}: the address ends at ${address}, the block begins at ${cells[0]}`);
    assert.deepEqual([...new Set(cells)].length, 1, path);
  }
  await context.close();
});

test("a meter's heading and figures stand on the sheet of its plot", async () => {
  const { context, page } = await open(browser);
  await page.goto(fileUrl("meters.html"));
  const meters = await page.$$eval("main .part", (all) => all.filter((one) => one.querySelector(".plotted")).map((one) => [one.querySelector("h2").textContent, one.querySelector(".plotted figcaption").textContent]));
  for (const format of ["A4", "Letter"]) {
    const sheets = await printed(page, format);
    for (const [heading, caption] of meters) assert.ok(sheets.some((sheet) => sheet.includes(`${heading} `) && sheet.includes(words(caption))), `${format}: ${heading}`);
  }
  await context.close();
});

test("what is on the screen for the thumb is not on paper", async () => {
  const { context, page } = await open(browser);
  await page.goto(fileUrl("guides/oil-and-filter.html"));
  await page.getByRole("button", { name: "Work through it" }).first().click();
  await page.locator("#_dock").waitFor();
  const text = (await printed(page, "A4")).join(" ");
  for (const word of ["First step", "Break off", "Whole list", "Light:"]) assert.ok(!text.includes(word), word);
  await context.close();
});

test("paper has the last three times of a job, and an address that can be typed", async () => {
  const { context, page } = await open(browser);
  await page.goto(fileUrl("guides/oil-and-filter.html"));
  await page.emulateMedia({ media: "print" });
  const rows = await page.locator(".history > li").evaluateAll((all) => all.map((one) => one.checkVisibility()));
  assert.deepEqual(rows.slice(0, 5), [true, true, true, false, false]);
  // 8 points of 1/72 inch are 8 × 96 / 72 = 10.67 px.
  const sizes = await page.locator(".address").evaluateAll((all) => all.map((one) => parseFloat(getComputedStyle(one).fontSize)));
  for (const size of sizes) assert.ok(size >= 10.6, String(size));
  await context.close();
});

test("without scripts the pocket file prints every guide from a new sheet", async () => {
  const { context, page } = await open(browser, { javaScriptEnabled: false });
  await page.goto(fileUrl("pocket.html"));
  const titles = (await page.locator(".carried h1").allTextContents()).map(words);
  const sheets = await printed(page, "A4");
  for (const title of titles) {
    const beginning = title.split(" ").slice(0, 3).join(" ");
    assert.ok(sheets.some((sheet) => sheet.startsWith(beginning)), title);
  }
  await context.close();
});
