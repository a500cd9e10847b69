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

// All by day on a phone; otherwise some of each folder, for one template makes them all. GARBOARD_ALL=1 opens all.
const inFolder = new Map();
const some = pages.filter((name) => {
  const folder = name.includes("/") ? name.split("/")[0] : name;
  inFolder.set(folder, (inFolder.get(folder) ?? 0) + 1);
  return process.env.GARBOARD_ALL || (inFolder.get(folder) <= 4 && name !== "pocket.html");
});

for (const [light, width, names] of [["day", 360, pages], ["day", 1280, some], ["night", 360, some]]) {
  test(`no accessibility violation by ${light} at ${width} px`, async () => {
    const { context, page, trouble } = await open(browser, { viewport: { width, height: 900 } });
    await setLight(context, light);
    const found = [];
    for (const name of names) {
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

/* That this stands above the fold of a common phone, 390 by 844 px: common practice, no source. */
test("a phone shows in one view what matters before the work", async () => {
  const { context, page } = await open(browser, { viewport: { width: 390, height: 844 } });
  await page.goto(fileUrl("guides/oil-and-filter.html"));
  const bar = (await page.locator(".reach").boundingBox()).y;
  for (const place of [".cautions-head", ".takes", ".lastdone .big", ".nextdue .big"]) {
    const box = await page.locator(place).first().boundingBox();
    assert.ok(box.y + box.height <= bar, `${place} ends at ${box.y + box.height}, the bar begins at ${bar}`);
  }
  await context.close();
});

test("nothing lies over the button of the quick note, and its own button ends the screen", async () => {
  for (const name of ["index.html", "pocket.html"]) {
    const { context, page } = await open(browser, { viewport: { width: 390, height: 844 } });
    await page.goto(fileUrl(name));
    const button = page.locator("#_note button");
    await button.waitFor();
    assert.ok(await button.evaluate((one) => {
      const box = one.getBoundingClientRect();
      return document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2) === one;
    }), name);
    await button.click();
    await page.locator("dialog.form form").waitFor();
    const acts = await page.locator("dialog.form .atthumb").boundingBox();
    assert.equal(Math.round(acts.y + acts.height), 844, name);
    await context.close();
  }
});

/* WCAG 2.2, 2.5.8: targets of at least 24 by 24 CSS pixels. */
test("every link is at least 24 px high on a phone", async () => {
  const { context, page } = await open(browser, { viewport: { width: 390, height: 844 } });
  const low = [];
  for (const name of ["index.html", "guides.html", "guides/oil-and-filter.html", pages.find((path) => path.startsWith("passages/"))]) {
    await page.goto(fileUrl(name));
    const found = await page.$$eval("main a", (all) => all.filter((one) => one.checkVisibility()).map((one) => [one.textContent, one.getClientRects()[0]?.height]).filter(([, height]) => height < 24));
    low.push(...found.map(([text, height]) => `${name}: ${text}: ${height}`));
  }
  assert.deepEqual(low, []);
  await context.close();
});

test("a box to tick stands without a dash, and words have room on every width", async () => {
  const { context, page } = await open(browser, { viewport: { width: 360, height: 740 } });
  await page.goto(fileUrl("guides/life-raft-service.html"));
  const boxes = await page.locator("li:has(> input[disabled])").evaluateAll((all) => all.map((one) => getComputedStyle(one).listStyleType));
  assert.ok(boxes.length > 0);
  assert.deepEqual([...new Set(boxes)], ["none"]);
  const widths = (selector) => page.locator(selector).evaluateAll((all) => all.map((one) => one.getBoundingClientRect().width));
  await page.goto(fileUrl("meters.html"));
  const jobs = await widths(".meterdue tbody th");
  assert.ok(jobs.length > 0 && Math.min(...jobs) >= 300, String(jobs));
  await page.setViewportSize({ width: 768, height: 1024 });
  for (const path of ["defects.html", pages.find((one) => one.startsWith("passages/"))]) {
    await page.goto(fileUrl(path));
    const words = await widths(".findings .task");
    assert.ok(words.length > 0 && Math.min(...words) >= 320, `${path}: ${words}`);
  }
  await context.close();
});

test("the bar of the working mode is one row on the smallest phones", async () => {
  const { context, page } = await open(browser, { viewport: { width: 360, height: 740 } });
  await page.goto(fileUrl("guides/oil-and-filter.html"));
  await page.locator(".head .work").click();
  const small = page.locator("#_dock .small button");
  await small.first().waitFor();
  const look = async () => {
    const boxes = await small.evaluateAll((all) => all.map((one) => ({ text: one.textContent, top: one.getBoundingClientRect().top, right: one.getBoundingClientRect().right })));
    assert.equal(new Set(boxes.map((box) => box.top)).size, 1, JSON.stringify(boxes));
    assert.ok(Math.max(...boxes.map((box) => box.right)) <= 360, JSON.stringify(boxes));
    const lines = await small.evaluateAll((all) => all.map((one) => { const words = document.createRange(); words.selectNodeContents(one); return words.getClientRects().length; }));
    assert.deepEqual([...new Set(lines)], [1], JSON.stringify(boxes));
  };
  await page.getByRole("button", { name: "First step" }).click();
  // A safe stop is judged by what is ticked, not by what is shown.
  for (let step = 0; step < 40 && !(await page.locator(".small .safe").count()); step += 1) await page.getByRole("button", { name: "Done", exact: true }).click();
  assert.equal(await page.locator(".small .safe").innerText(), "Break off here");
  await look();
  await page.getByRole("button", { name: "Whole list" }).click();
  await look();
  await context.close();
});
