// Every page opened as a file: reachable, quiet, nothing leaves the folder, nothing wider than the
// screen, no accessibility violation by axe-core, by day and in red light.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { fileUrl, launch, open, pages, setLight } from "./site.mjs";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

let browser;
before(async () => {
  browser = await launch();
});
after(() => browser.close());

async function axe(page) {
  await page.evaluate(axeSource);
  const result = await page.evaluate(() =>
    globalThis.axe.run(document, { preload: false, runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }),
  );
  return result.violations.map((v) => `${v.id}: ${v.nodes.map((node) => node.target.join(" ")).slice(0, 3).join(" | ")}`);
}

test("every page is reachable from the first by links", async () => {
  const { context, page, trouble } = await open(browser);
  const seen = new Set();
  const queue = [fileUrl("index.html")];
  while (queue.length > 0) {
    const url = queue.pop();
    if (seen.has(url)) continue;
    seen.add(url);
    await page.goto(url);
    const links = await page.$$eval("a[href]", (all) => all.map((a) => a.href));
    for (const link of links) {
      const plain = link.split("#")[0];
      if (plain.startsWith("file:") && plain.endsWith(".html") && !seen.has(plain)) queue.push(plain);
    }
  }
  assert.deepEqual([...seen].sort(), pages.map(fileUrl).sort());
  assert.deepEqual(trouble, []);
  await context.close();
});

for (const [light, width] of [["day", 360], ["day", 1280], ["night", 360]]) {
  test(`no accessibility violation by ${light} at ${width} px`, async () => {
    const { context, page, trouble } = await open(browser, { viewport: { width, height: 900 } });
    await setLight(context, light);
    const found = [];
    for (const name of pages) {
      await page.goto(fileUrl(name));
      for (const violation of await axe(page)) found.push(`${name}: ${violation}`);
    }
    assert.deepEqual(found, []);
    assert.deepEqual(trouble, []);
    await context.close();
  });
}

test("nothing is wider than a screen of 320 px, but what scrolls by itself", async () => {
  const { context, page } = await open(browser, { viewport: { width: 320, height: 640 } });
  const wide = [];
  for (const name of pages) {
    await page.goto(fileUrl(name));
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    if (width > 320) wide.push(`${name}: ${width}`);
  }
  assert.deepEqual(wide, []);
  await context.close();
});

test("every page reads without scripts", async () => {
  const { context, page, trouble } = await open(browser, { javaScriptEnabled: false });
  for (const name of pages) {
    await page.goto(fileUrl(name));
    const heading = await page.locator("main h1").first().textContent();
    assert.ok(heading.trim().length > 0, name);
  }
  assert.deepEqual(trouble, []);
  await context.close();
});

test("what a thumb must hit is at least 44 px high and wide", async () => {
  const { context, page } = await open(browser);
  const small = [];
  for (const name of ["index.html", "guides.html", "guides/oil-and-filter.html", "log.html"]) {
    await page.goto(fileUrl(name));
    const found = await page.$$eval("button:not([hidden]), header a, nav a, summary", (all) =>
      all
        .filter((element) => element.checkVisibility() && !element.closest("p, h1, h2, h3, li li, td, dd") )
        .map((element) => ({ text: element.textContent.trim().slice(0, 30), box: element.getBoundingClientRect() }))
        .filter(({ box }) => box.height < 43.5)
        .map(({ text, box }) => `${text}: ${Math.round(box.width)}×${Math.round(box.height)}`),
    );
    small.push(...found.map((line) => `${name}: ${line}`));
  }
  assert.deepEqual(small, []);
  await context.close();
});

test("a guide prints as a job sheet of a few pages", async () => {
  const { context, page } = await open(browser);
  await page.goto(fileUrl("guides/oil-and-filter.html"));
  for (const format of ["A4", "Letter"]) {
    const pdf = await page.pdf({ format, preferCSSPageSize: false });
    const sheets = (pdf.toString("latin1").match(/\/Type\s*\/Page[^s]/g) || []).length;
    assert.ok(sheets >= 2 && sheets <= 12, `${format}: ${sheets} sheets`);
  }
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator("nav").first().isVisible(), false);
  await context.close();
});

test("the light is remembered from page to page, and the first frame is dark", async () => {
  const { context, page } = await open(browser);
  await page.goto(fileUrl("index.html"));
  const button = page.locator("#_light");
  for (let tries = 0; tries < 4; tries += 1) {
    if ((await page.evaluate(() => document.documentElement.dataset.light)) === "night") break;
    await button.click();
  }
  assert.equal(await page.evaluate(() => document.documentElement.dataset.light), "night");
  await page.goto(fileUrl("guides.html"), { waitUntil: "commit" });
  await page.waitForSelector("body");
  const ground = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
  assert.match(ground, /^rgb\((\d|1\d), 0, 0\)$|^rgb\(0, 0, 0\)$/);
  await context.close();
});
