// A shared file, opened by itself as a phone opens it: read, worked through, printed, and nothing leaves it.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { HtmlValidate } from "html-validate";
import { axeSource, program, project } from "./phone.mjs";
import { launch, setLight } from "./site.mjs";
import { rules } from "./valid.mjs";

let browser, folder;

before(async () => {
  browser = await launch();
  folder = mkdtempSync(join(tmpdir(), "garboard-share-"));
  share("one.html", "oil-and-filter");
  share("three.html", "oil-and-filter", "seacocks", "steering-wire");
});
after(async () => {
  await browser.close();
  rmSync(folder, { recursive: true });
});

function share(file, ...guides) {
  const run = spawnSync(program, ["share", ...guides, "--to", join(folder, file)], { cwd: project, encoding: "utf8" });
  assert.equal(run.status, 0, run.stderr);
}

const address = (file) => pathToFileURL(join(folder, file)).href;
const source = (file) => readFileSync(join(folder, file), "utf8");

/** Opens a file, and notes whatever leaves it or goes wrong. */
async function opened(file, hash = "", options = {}, prepare = null) {
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, ...options });
  const page = await context.newPage();
  const trouble = [];
  page.on("console", (message) => { if (message.type() === "error") trouble.push(`console: ${message.text()}`); });
  page.on("pageerror", (error) => trouble.push(`script: ${error.message}`));
  page.on("request", (request) => {
    const url = request.url();
    if (url.split("#")[0] !== address(file) && !url.startsWith("data:")) trouble.push(`request: ${url}`);
  });
  if (prepare) await prepare(context);
  await page.goto(address(file) + hash);
  return { context, page, trouble };
}

const press = (page, name) => page.getByRole("button", { name, exact: true }).first().click();

/** Links that lead to nothing in the document. */
const astray = (page) => page.evaluate(() => {
  const ids = Array.from(document.querySelectorAll("[id]"), (one) => one.id);
  const dead = Array.from(document.querySelectorAll("a[href^='#']"), (link) => link.getAttribute("href").slice(1)).filter((to) => !ids.includes(to));
  return { twice: ids.filter((id, at) => ids.indexOf(id) !== at), dead };
});

test("a guide by itself opens straight on the guide, and is worked through to its end", async () => {
  const { context, page, trouble } = await opened("one.html");
  assert.equal(await page.locator("h1").innerText(), "Change the engine oil and filter");
  assert.deepEqual(await astray(page), { twice: [], dead: [] });
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth));
  /* The drawing is shown, by the policy of the file. */
  await page.locator("img").first().scrollIntoViewIfNeeded();
  assert.ok(await page.locator("img").first().evaluate((image) => image.complete && image.naturalWidth > 0));
  await page.evaluate(() => scrollTo(0, 0));
  await press(page, "Work through it");
  await page.locator("#_dock").waitFor();
  await press(page, "First step");
  assert.match(page.url(), /#s-warm-up--1$/);
  await press(page, "Done");
  /* A reload costs nothing. */
  await page.reload();
  await page.locator("#_dock").waitFor();
  await press(page, "Whole list");
  assert.equal(await page.locator(".tick input:checked").count(), 1);
  for (const box of await page.locator(".tick input").all()) await box.check();
  await press(page, "To the end");
  await press(page, "Finish");
  assert.equal(await page.getByRole("heading", { name: "The work is done" }).count(), 1);
  /* There is no log here: no entry is made, and nothing asks for one. */
  assert.equal(await page.locator("dialog.form").count(), 0);
  await press(page, "Yes, forget it");
  await page.reload();
  assert.equal(await page.locator("body.working").count(), 0);
  assert.deepEqual(trouble, []);
  await context.close();
});

test("breaking off makes no entry either", async () => {
  const { context, page, trouble } = await opened("one.html");
  await press(page, "Work through it");
  await page.locator("#_dock").waitFor();
  await press(page, "First step");
  await press(page, "Done");
  await press(page, "Break off");
  assert.equal(await page.getByRole("button", { name: "Break off and make the entry" }).count(), 0);
  await press(page, "Break off here");
  assert.equal(await page.locator("body.working").count(), 0);
  assert.deepEqual(trouble, []);
  await context.close();
});

test("several have contents and a search, and lead to each other", async () => {
  const { context, page, trouble } = await opened("three.html");
  assert.equal(await page.locator("h1").innerText(), "Guides of Skerrywake");
  await page.locator("#_q").fill("filter");
  await page.locator("#_hits a").first().waitFor();
  await page.locator("#_hits a").first().click();
  // The page follows its address a moment later.
  await page.locator("main h1:visible", { hasText: "Change the engine oil and filter" }).waitFor();
  assert.equal(await page.locator("main h1:visible").first().innerText(), "Change the engine oil and filter");
  await page.getByRole("link", { name: "Contents" }).click();
  await page.getByRole("link", { name: "Service a seacock" }).first().click();
  await press(page, "Work through it");
  await page.locator("#_dock").waitFor();
  /* Which of the other boat's seacocks it is is not asked. */
  assert.equal(await page.getByRole("heading", { name: "Which one is it?" }).count(), 0);
  await press(page, "First step");
  await press(page, "Done");
  assert.deepEqual(trouble, []);
  await context.close();
});

test("a script or a picture that was slipped in does nothing", async () => {
  const { context, page, trouble } = await opened("one.html");
  const stopped = [];
  page.on("requestfailed", (request) => stopped.push(request.failure().errorText));
  page.on("requestfinished", (request) => stopped.push(`went out: ${request.url()}`));
  await page.evaluate(() => {
    const script = document.createElement("script");
    script.textContent = "window.slipped = true";
    const image = document.createElement("img");
    image.src = "http://elsewhere.example/dot.png";
    document.body.append(script, image);
  });
  assert.equal(await page.evaluate(() => window.slipped), undefined);
  assert.deepEqual(stopped, ["csp"]);
  assert.equal(trouble.filter((one) => /Content Security Policy/.test(one)).length, 2, trouble.join("\n"));
  await context.close();
});

test("it prints with every step", async () => {
  const { context, page } = await opened("one.html");
  const acts = await page.locator(".step .act").allInnerTexts();
  assert.ok(acts.length > 15, `${acts.length} steps`);
  const path = join(folder, "one.pdf");
  await page.pdf({ path, format: "A4" });
  const run = spawnSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8" });
  assert.equal(run.status, 0, run.stderr);
  const plain = (text) => text.replace(/\s+/g, "");
  const paper = plain(run.stdout);
  for (const act of acts) assert.ok(paper.includes(plain(act).slice(0, 24)), act);
  assert.ok(paper.includes(plain("Written for another boat, Skerrywake")));
  await context.close();
});

test("it can be read by everyone, by day and by night", async () => {
  for (const file of ["one.html", "three.html"]) {
    for (const light of ["day", "night"]) {
      const { context, page } = await opened(file, "", { bypassCSP: true }, (context) => setLight(context, light));
      await page.evaluate(axeSource);
      const result = await page.evaluate(() =>
        globalThis.axe.run(document, { preload: false, runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }));
      assert.deepEqual(result.violations.map((v) => `${v.id}: ${v.nodes.map((node) => node.target.join(" ")).slice(0, 3).join(" | ")}`), [], `${file} ${light}`);
      await context.close();
    }
  }
});

test("without scripts all of it stands there", async () => {
  const { context, page } = await opened("three.html", "", { javaScriptEnabled: false });
  for (const title of ["Change the engine oil and filter", "Service a seacock"]) {
    assert.ok(await page.getByRole("heading", { level: 1, name: title }).isVisible(), title);
  }
  await context.close();
});

/* Before its scripts run, a file of several has all guides one behind the other, each with its own landmarks. */
for (const [file, more] of [["one.html", {}], ["three.html", { "unique-landmark": "off" }]]) {
  test(`valid: ${file}`, async () => {
    const report = await new HtmlValidate({ ...rules, rules: { ...rules.rules, ...more } }).validateString(source(file), file);
    assert.deepEqual(report.results.flatMap((result) => result.messages.map((m) => `${m.line}:${m.column} ${m.ruleId}: ${m.message}`)), []);
  });
}
