// Served from a web server in a sub-folder: the site installs, opens without a network, and turns to a
// newer edition when it is published anew. From a folder none of that is tried.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileUrl, launch, open, pages, site } from "./site.mjs";
import { serve } from "./server.mjs";

let browser;
before(async () => { browser = await launch(); });
after(() => browser.close());

async function ready(page) {
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => true));
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
}

test("a served site opens without a network once it has been seen", async () => {
  const server = await serve(site);
  const context = await browser.newContext({ viewport: { width: 390, height: 800 } });
  const page = await context.newPage();
  const errors = [];
  page.on("pageerror", (error) => errors.push(error.message));
  await page.goto(server.url("index.html"));
  await ready(page);
  await server.close();
  for (const name of ["index.html", "", ...pages.filter((name) => name.startsWith("guides/")).slice(0, 5), "log.html"]) {
    await page.goto(server.url(name));
    assert.ok((await page.textContent("h1")).length > 0, name);
    assert.ok(await page.evaluate(() => getComputedStyle(document.body).fontFamily.length > 0 && window.garboard !== undefined), name);
    const broken = await page.$$eval("img", (all) => all.filter((one) => one.complete && one.naturalWidth === 0 && one.loading !== "lazy").length);
    assert.equal(broken, 0, name);
  }
  assert.deepEqual(errors, []);
  await context.close();
});

test("the web app manifest says what a phone needs to install it", async () => {
  const server = await serve(site);
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(server.url("guides/oil-and-filter.html"));
  await page.waitForSelector("link[rel=manifest]", { state: "attached" });
  const href = await page.$eval("link[rel=manifest]", (link) => link.href);
  const manifest = JSON.parse(readFileSync(join(site, "site.webmanifest"), "utf8"));
  assert.equal(href, server.url("site.webmanifest"));
  // W3C, Web Application Manifest: members name, start_url, display, icons.
  assert.equal(manifest.display, "standalone");
  for (const icon of manifest.icons) {
    const bytes = readFileSync(join(site, icon.src));
    const [width, height] = [bytes.readUInt32BE(16), bytes.readUInt32BE(20)];
    assert.equal(`${width}x${height}`, icon.sizes, icon.src);
  }
  await context.close();
  await server.close();
});

test("a republished site is fetched again, and only what changed", async () => {
  const folder = mkdtempSync(join(tmpdir(), "garboard-served-"));
  cpSync(site, folder, { recursive: true });
  const server = await serve(folder);
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(server.url("tools.html"));
  await ready(page);
  const tools = readFileSync(join(folder, "tools.html"), "utf8");
  writeFileSync(join(folder, "tools.html"), tools.replace("</h1>", " anew</h1>"));
  const worker = readFileSync(join(folder, "sw.js"), "utf8");
  const [, hash] = /"tools\.html":"([0-9a-f]+)"/.exec(worker);
  writeFileSync(join(folder, "sw.js"), worker.replace(hash, "0".repeat(hash.length)).replace(/"version":"[^"]+"/, '"version":"other"'));
  server.asked.length = 0;
  await page.evaluate(() => navigator.serviceWorker.getRegistration().then((one) => one.update()));
  await page.waitForSelector(".renewed");
  await page.click(".renewed button");
  await page.waitForFunction(() => document.querySelector("h1").textContent.includes("anew"));
  const fetched = server.asked.filter((path) => !path.endsWith("sw.js"));
  assert.deepEqual(fetched, ["/boats/ours/tools.html"]);
  await context.close();
  await server.close();
  rmSync(folder, { recursive: true });
});

test("from a folder nothing of it is tried", async () => {
  const { context, page, trouble } = await open(browser);
  await page.goto(fileUrl("index.html"));
  await page.waitForTimeout(200);
  assert.equal(await page.$("link[rel=manifest]"), null);
  assert.deepEqual(trouble, []);
  await context.close();
});
