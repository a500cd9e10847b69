// The boat's record: a page on a phone, and a document on paper whose contents name its sheets.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { createRequire } from "node:module";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileUrl, files, launch, open, site, setLight } from "./site.mjs";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const documents = files.filter((path) => /^record[^/]*\.html$/.test(path));

let browser, folder;
before(async () => {
  browser = await launch();
  folder = mkdtempSync(join(tmpdir(), "garboard-record-"));
});
after(async () => {
  await browser.close();
  rmSync(folder, { recursive: true });
});

const words = (text) => text.replace(/\s+/g, " ").trim();

/** Sheets of a page as their words. */
async function printed(page, format) {
  const path = join(folder, "record.pdf");
  await page.pdf({ format, path });
  const done = spawnSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8" });
  assert.equal(done.status, 0, done.stderr);
  return done.stdout.split("\f").slice(0, -1).map(words);
}

for (const light of ["day", "night"]) {
  test(`it opens at 360 px by ${light}, wide as the screen and without an accessibility violation`, async () => {
    const { context, page, trouble } = await open(browser);
    await setLight(context, light);
    for (const name of documents) {
      await page.goto(fileUrl(name));
      assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 360, name);
      await page.evaluate(axeSource);
      const { violations } = await page.evaluate(() => globalThis.axe.run(document, { preload: false }));
      assert.deepEqual(violations.map((one) => `${name}: ${one.id} ${one.nodes[0].target}`), []);
    }
    assert.deepEqual(trouble, []);
    await context.close();
  });
}

for (const format of ["A4", "Letter"]) {
  test(`it is a document on ${format}: numbered sheets, and contents that name them`, async () => {
    const { context, page, trouble } = await open(browser);
    await page.goto(fileUrl("record.html"));
    const boat = words(await page.locator(".top .boat").innerText());
    const lines = await page.$$eval(".toc li", (all) => all.map((li) => [li.querySelector("a").textContent, li.querySelector(".firstsheet").textContent]));
    const last = await page.locator(".doings tr[id] .day").last().textContent();
    const sheets = await printed(page, format);
    assert.ok(lines.length >= 5, String(lines));
    sheets.forEach((sheet, at) => {
      assert.ok(sheet.endsWith(`page ${at + 1} of ${sheets.length}`), `sheet ${at + 1}: ${sheet.slice(-60)}`);
      assert.ok(sheet.includes(`${boat} · The boat’s record · Published 24 November 2026`), `sheet ${at + 1} does not say what it is of`);
      assert.ok(sheet.length > 200, `sheet ${at + 1} is as good as empty: ${sheet}`);
    });
    // What the contents call `4-1` is the sheet with that number at its foot, and it begins with that section.
    for (const [title, number] of lines) {
      assert.ok(words(sheets.slice(0, 2).join(" ")).includes(`${title} `), title);
      const found = sheets.filter((sheet) => sheet.includes(` ${number} page `));
      assert.equal(found.length, 1, `sheet ${number}`);
      assert.ok(found[0].startsWith(`${number.replace(/-1$/, "")} ${title}`), `${number}: ${found[0].slice(0, 60)}`);
    }
    assert.ok(sheets.some((sheet) => sheet.includes(last)), `the last entry, of ${last}`);
    // The heads of a table stand on each of its sheets.
    const going = sheets.slice(1).filter((sheet) => /^(?!\d+ ).*(By whom|Set Kept)/.test(sheet));
    assert.ok(going.length >= 1 && going.every((sheet) => /^(When, and at which|Job Set|When, and in|Gear)/.test(sheet)), going.map((sheet) => sheet.slice(0, 60)).join("\n"));
    assert.deepEqual(trouble, []);
    await context.close();
  });
}

test("its data stand beside it, and its fingerprint is on the first sheet", async () => {
  const { context, page } = await open(browser);
  await page.goto(fileUrl("record.html"));
  const record = JSON.parse(readFileSync(join(site, "record.json"), "utf8"));
  const shown = (await page.locator(".fingerprint").first().textContent()).replace(/\s/g, "");
  assert.equal(shown, record.fingerprint);
  const links = await page.$$eval(".asdata a", (all) => all.map((a) => a.getAttribute("href")));
  assert.deepEqual(links, ["record.csv", "record.json"]);
  assert.ok(links.every((link) => files.includes(link)));
  const sheets = await printed(page, "A4");
  assert.ok(sheets[0].replace(/\s/g, "").includes(record.fingerprint));
  await context.close();
});
