// The pocket file: all guides in one HTML file, opened by itself as a phone opens it. Each test opens a
// copy in a folder where nothing else is.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { axeSource, garboard, setUp, tearDown } from "./phone.mjs";
import { files, launch, setLight, site } from "./site.mjs";

const GUIDES = files.filter((path) => path.startsWith("guides/") && path.endsWith(".html")).map((path) => path.slice(7, -5));
let browser, folder, address;

before(async () => {
  await setUp();
  browser = await launch();
  folder = mkdtempSync(join(tmpdir(), "garboard-pocket-"));
  copyFileSync(join(site, "pocket.html"), join(folder, "pocket.html"));
  address = pathToFileURL(join(folder, "pocket.html")).href;
});
after(async () => {
  await browser.close();
  await tearDown();
  rmSync(folder, { recursive: true });
});

/** Opens the file at a place of it, and notes whatever leaves it or goes wrong. */
async function carry(hash = "", options = {}, prepare = null) {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, ...options });
  const page = await context.newPage();
  const trouble = [];
  page.on("console", (message) => { if (message.type() === "error") trouble.push(`console: ${message.text()}`); });
  page.on("pageerror", (error) => trouble.push(`script: ${error.message}`));
  page.on("request", (request) => {
    const url = request.url();
    if (url.split("#")[0] !== address && !url.startsWith("data:")) trouble.push(`request: ${url}`);
  });
  if (prepare) await prepare(context);
  await page.goto(address + hash);
  return { context, page, trouble };
}

async function axe(page) {
  await page.evaluate(axeSource);
  const result = await page.evaluate(() =>
    globalThis.axe.run(document, { preload: false, runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }));
  return result.violations.map((v) => `${v.id}: ${v.nodes.map((node) => node.target.join(" ")).slice(0, 3).join(" | ")}`);
}

/** Ids that stand twice, and links that lead to nothing in the document or to no guide. */
const astray = (page) => page.evaluate((guides) => {
  const ids = Array.from(document.querySelectorAll("[id]"), (one) => one.id);
  const twice = ids.filter((id, at) => ids.indexOf(id) !== at);
  const dead = Array.from(document.querySelectorAll("a[href^='#']"), (link) => link.getAttribute("href").slice(1))
    // `_home` is where the contents are, whether they are shown or not.
    .filter((to) => to !== "_home" && !ids.includes(to) && !guides.includes(to.split(".")[0]));
  return { twice, dead };
}, GUIDES);
const nowhere = { twice: [], dead: [] };

const heading = (page) => page.locator("main h1:visible").first().innerText();
const press = (page, name) => page.getByRole("button", { name, exact: true }).first().click();

test("it is light enough to carry, and nothing in it leads out", () => {
  assert.ok(statSync(join(site, "pocket.html")).size < 3_000_000);
  const html = readFileSync(join(site, "pocket.html"), "utf8").replace(/<script[^]*?<\/script>|<style[^]*?<\/style>/g, "");
  assert.deepEqual([...html.matchAll(/ (?:src|srcset|href|action)="(?!#|data:image\/|https?:|mailto:|tel:|geo:)[^"]*"/g)].map((found) => found[0]), []);
  assert.match(readFileSync(join(site, "about.html"), "utf8"), /href="pocket\.html"/);
});

test("contents, a guide, its work, breaking off, another guide, and back", async () => {
  const { context, page, trouble } = await carry();
  assert.equal(await page.locator("#_all").count(), 0);
  assert.deepEqual(await astray(page), nowhere);
  await page.getByRole("link", { name: "Change the engine oil and filter" }).first().click();
  assert.equal(await heading(page), "Change the engine oil and filter");
  assert.match(await page.title(), /^Change the engine oil and filter · /);
  assert.deepEqual(await astray(page), nowhere);
  await press(page, "Work through it");
  await page.locator("#_dock").waitFor();
  await press(page, "First step");
  assert.match(page.url(), /#oil-and-filter\.s-warm-up--1$/);
  assert.deepEqual(await astray(page), nowhere);
  await press(page, "Done");
  await press(page, "Done");
  /* A reload costs nothing. */
  await page.reload();
  await page.locator("#_dock").waitFor();
  assert.equal(await heading(page), "Change the engine oil and filter");
  await press(page, "Whole list");
  assert.equal(await page.locator(".tick input:checked").count(), 2);
  assert.equal(await page.locator("h1").count(), 1);
  /* Another guide, and its own working mode, while this one waits. */
  await page.evaluate(() => { location.hash = "#alternator-belt"; });
  await page.locator("[data-guide='alternator-belt']").waitFor();
  assert.match(await heading(page), /belt/);
  assert.equal(await page.locator("body.working").count(), 0);
  assert.equal(await page.locator(".tick input:checked").count(), 0);
  await press(page, "Work through it");
  await page.locator("#_dock").waitFor();
  assert.match(await page.locator("#_where").innerText(), /./);
  assert.deepEqual(await astray(page), nowhere);
  await page.goBack();
  await page.locator("[data-guide='oil-and-filter'] #_dock").waitFor();
  assert.equal(await heading(page), "Change the engine oil and filter");
  assert.equal(await page.locator(".tick input:checked").count(), 2);
  /* Breaking off leads to the record, which knows the parts of the guide and the meters of the boat. */
  await press(page, "Break off");
  await press(page, "Break off and make the entry");
  const form = page.locator("dialog.form");
  await form.locator("form").waitFor();
  await form.getByLabel("Engine hours").fill("540");
  await form.getByLabel("Oil filter", { exact: true }).check();
  await form.getByRole("button", { name: "Make the entry" }).click();
  const entry = await form.locator("textarea.entrytext").inputValue();
  assert.match(entry, /\njobs: \[oil-and-filter\]\nstarted: /);
  assert.match(entry, /\nmeters: \{engine: 540\}/);
  assert.match(entry, /\{item: oil-filter, qty: 1\}/);
  /* The phone's own way back closes the form with the guide. */
  await page.evaluate(() => { location.hash = "#_home"; });
  await page.locator("#_search").waitFor();
  assert.equal(await form.count(), 0);
  assert.deepEqual(await astray(page), nowhere);
  await press(page, "Note something");
  await form.getByLabel("Engine hours").waitFor();
  assert.deepEqual(trouble, []);
  await context.close();
});

test("a timer goes on in another guide and leads back to its step", async () => {
  const { context, page, trouble } = await carry("#oil-and-filter");
  await press(page, "Work through it");
  await page.locator("#_dock").waitFor();
  await press(page, "Whole list");
  await page.locator(".timer").first().click();
  await page.locator("#_timers li").waitFor();
  const step = await page.locator(".step", { has: page.locator(".timer") }).first().getAttribute("id");
  await page.evaluate(() => { location.hash = "#_home"; });
  await page.locator("body > #_timers li a").click();
  await page.locator("#_dock").waitFor();
  assert.equal(page.url().split("#")[1], `oil-and-filter.${step}`);
  assert.equal(await page.locator(`[id="${step}"]`).isVisible(), true);
  await page.reload();
  await page.locator("#_timers li").waitFor();
  assert.deepEqual(await astray(page), nowhere);
  assert.deepEqual(trouble, []);
  await context.close();
});

test("where nothing can be stored, work lasts while the file is open, and no record is called kept", async () => {
  const { context, page, trouble } = await carry("#oil-and-filter", {}, (made) => made.addInitScript(() => {
    Object.defineProperty(globalThis, "localStorage", { get: () => { throw new DOMException("refused", "SecurityError"); } });
  }));
  await press(page, "Work through it");
  await page.locator("#_dock").waitFor();
  await press(page, "First step");
  await press(page, "Done");
  await page.evaluate(() => { location.hash = "#raw-water-impeller"; });
  await page.locator("[data-guide='raw-water-impeller']").waitFor();
  await page.evaluate(() => { location.hash = "#oil-and-filter"; });
  await page.locator("#_dock").waitFor();
  await press(page, "Whole list");
  assert.equal(await page.locator(".tick input:checked").count(), 1);
  await press(page, "Break off");
  await press(page, "Break off and make the entry");
  const form = page.locator("dialog.form");
  await form.getByRole("button", { name: "Make the entry" }).click();
  await form.getByText("Not kept: this browser stores nothing here.").waitFor();
  assert.deepEqual(trouble, []);
  await context.close();
});

test("addresses lead to a guide, to a step, or say that there is none", async () => {
  const { context, page, trouble } = await carry("#oil-and-filter.s-refill--1");
  assert.ok(await page.locator("#s-refill--1").evaluate((step) => step.getBoundingClientRect().top < innerHeight));
  await page.evaluate(() => { location.hash = "#no-such-guide"; });
  await page.locator("#_told:not(:empty)").waitFor();
  assert.match(await page.locator("#_told").innerText(), /no-such-guide/);
  await page.evaluate(() => { location.hash = "#%E0%A4%A"; });
  await page.evaluate(() => { location.hash = "#__proto__"; });
  await page.locator("#_home").waitFor();
  await page.evaluate(() => { location.hash = "#oil-and-filter"; });
  await page.locator("[data-guide='oil-and-filter']").waitFor();
  await page.locator("#isolations a").first().click();
  await page.waitForURL(/#oil-and-filter\.s-[a-z-]+\d$/);
  await page.goBack();
  await page.waitForURL(/#oil-and-filter$/);
  assert.match(await heading(page), /oil and filter/);
  await page.goBack();
  await page.locator("#_home").waitFor();
  assert.deepEqual(trouble, []);
  await context.close();
});

test("the guides are searched to the step, and a slip is forgiven", async () => {
  const { context, page, trouble } = await carry();
  const field = page.getByLabel("Find a guide");
  await field.fill("filter wrench");
  await page.locator(".hits li").first().waitFor();
  const titles = await page.locator(".hits .name a").allInnerTexts();
  assert.ok(titles.some((name) => name.includes("Change the engine oil and filter")), String(titles));
  await field.fill("impelor");
  await page.locator(".hits .name a", { hasText: "raw-water impeller" }).first().waitFor();
  const spot = page.locator(".hits .spots a").first();
  const place = (await spot.getAttribute("href")).slice(1);
  await spot.click();
  await page.locator(`[id="${place.slice(place.indexOf(".") + 1)}"]`).waitFor();
  await page.goBack();
  await page.locator(".hits .name a", { hasText: "raw-water impeller" }).first().waitFor();
  await field.fill("xqxqxq");
  await page.waitForFunction(() => document.querySelectorAll(".hits li").length === 0);
  assert.match(await page.locator("#_told").innerText(), /^Nothing/i);
  assert.deepEqual(trouble, []);
  await context.close();
});

test("every guide is shown as on its own page, with its pictures", async () => {
  const { context, page, trouble } = await carry();
  for (const guide of GUIDES) {
    await page.evaluate((id) => { location.hash = `#${id}`; }, guide);
    await page.locator(`[data-guide="${guide}"]`).waitFor();
    assert.deepEqual(await astray(page), nowhere, guide);
    const broken = await page.$$eval("main img", (all) => Promise.all(all.map((img) => img.decode().then(() => null, () => img.alt))));
    assert.deepEqual(broken.filter(Boolean), [], guide);
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= 390), guide);
  }
  assert.deepEqual(trouble, []);
  await context.close();
});

test("guides for several pieces of gear ask which", async () => {
  const { context, page } = await carry("#winch-service");
  await press(page, "Work through it");
  await page.locator("#_panel .answers").first().waitFor();
  const names = await page.locator("#_panel .answers .main").allInnerTexts();
  assert.ok(names.length > 1 && names.every((name) => name.trim()), String(names));
  await page.locator("#_panel .answers .main").nth(1).click();
  const works = await page.evaluate(() => Object.keys(localStorage).filter((key) => key.includes(":work:winch-service/")));
  assert.equal(works.length, 1);
  await context.close();
});

for (const light of ["day", "night"]) {
  test(`no accessibility violation by ${light} at 390 px`, async () => {
    const { context, page } = await carry("", {}, (made) => setLight(made, light));
    const found = (await axe(page)).map((one) => `contents: ${one}`);
    for (const guide of ["oil-and-filter", "winch-service", "rig-check-aloft"]) {
      await page.evaluate((id) => { location.hash = `#${id}`; }, guide);
      await page.locator(`[data-guide="${guide}"]`).waitFor();
      found.push(...(await axe(page)).map((one) => `${guide}: ${one}`));
    }
    assert.deepEqual(found, []);
    await context.close();
  });
}

test("without scripts all guides read, and links lead on", async () => {
  const { context, page, trouble } = await carry("", { javaScriptEnabled: false, reducedMotion: "reduce" });
  assert.equal(await page.locator("main .carried h1").count(), GUIDES.length);
  for (const guide of GUIDES) assert.ok((await page.locator(`[id="${guide}"]`).innerText()).length > 500, guide);
  await page.locator("a[href='#oil-and-filter']").first().click();
  assert.ok(await page.locator("[id='oil-and-filter'] h1").evaluate((head) => Math.abs(head.getBoundingClientRect().top) < innerHeight));
  assert.deepEqual(trouble, []);
  await context.close();
});

test("names that look like markup are shown as text", async () => {
  const names = ["<script>alert(1)</script>", `"><img src=x onerror=alert(1)>`, "</script><!-- <script>", "]]> --> */ \\u003c", "</title></main><b>", "{{ 7 * 7 }} {% if true %}"];
  const book = join(folder, "hostile");
  const put = (path, text) => {
    mkdirSync(join(book, "content", path, ".."), { recursive: true });
    writeFileSync(join(book, "content", path), text);
  };
  const quoted = (text) => `'${text.replaceAll("'", "''")}'`;
  put("boat.yaml", `name: ${quoted(`Boat ${names[2]}`)}\nsystems: [{id: hull, title: ${quoted(names[0])}}]\nmeters: [{id: engine, title: ${quoted(names[2])}, unit: h}]\n`);
  // A brace in `safety` is a mark, unless a backslash stands before it.
  const caution = (name) => quoted(name.replaceAll("{", "\\{"));
  names.forEach((name, at) => put(`guides/hull/job-${at}.md`,
    `---\ntitle: ${quoted(name)}\nsafety: [${caution(name)}]\nparts: [{item: ${quoted(name)}}]\n---\n${name.replaceAll(/[<{]/g, "\\$&")}\n\n## Work\n\n1. Do it.\n`));
  const run = garboard(book, "publish", "--on", "2026-11-24");
  assert.equal(run.status, 0, run.err);
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  const trouble = [];
  page.on("dialog", (dialog) => { trouble.push(dialog.message()); dialog.dismiss(); });
  page.on("pageerror", (error) => trouble.push(error.message));
  page.on("request", (request) => { if (!/pocket\.html|^data:/.test(request.url())) trouble.push(request.url()); });
  await page.goto(pathToFileURL(join(book, "site/pocket.html")).href);
  for (const [at, name] of names.entries()) {
    await page.evaluate((id) => { location.hash = `#${id}`; }, `job-${at}`);
    await page.locator(`[data-guide="job-${at}"]`).waitFor();
    assert.equal((await heading(page)).trim(), name);
    assert.ok((await page.title()).startsWith(name.trim()), await page.title());
  }
  await page.locator(".top .boat a").click();
  await press(page, "Note something");
  await page.locator("dialog.form").getByText(names[2]).first().waitFor();
  assert.deepEqual(trouble, []);
  await context.close();
});
