// A phone on which records are made, and the book they are brought home to. The day is 2026-11-24, that
// of the published demo site. Which program takes the records in: GARBOARD_BIN, else the one built last.
import assert from "node:assert/strict";
import { createRequire } from "node:module";
import { spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { fileUrl, launch, open } from "./site.mjs";

export const project = resolve(dirname(fileURLToPath(import.meta.url)), "../..");
const built = ["debug", "release"].map((kind) => join(project, `target/${kind}/garboard`)).filter(existsSync);
export const program = process.env.GARBOARD_BIN || built.sort((a, b) => statSync(b).mtimeMs - statSync(a).mtimeMs)[0];
export const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const NOW = new Date("2026-11-24T15:00:00");
export const GUIDE = "guides/oil-and-filter.html";
export const DRAFT = {
  kind: "work", jobs: ["oil-and-filter"], guide: "oil-and-filter", title: "Change the engine oil and filter", begun: "2026-11-24T10:05", finished: true,
  left: [], minutes: 160, readings: { "oil-pressure": "3.4", "oil-drained": "6 L" }, findings: [{ what: "Weep at the rocker cover", grade: "watch", step: "step-3" }], notes: "",
};

let browser, folder;

/** A browser and a folder for the files of a test; to be called before all tests. */
export async function setUp() {
  assert.ok(program, "build the program first, or name it in GARBOARD_BIN");
  browser = await launch();
  folder = mkdtempSync(join(tmpdir(), "garboard-record-"));
}

export async function tearDown() {
  await browser.close();
  rmSync(folder, { recursive: true });
}

export async function onPage(path, options = {}, prepare = null) {
  const opened = await open(browser, { viewport: { width: 360, height: 740 }, ...options });
  await opened.page.clock.setFixedTime(NOW);
  if (prepare) await prepare(opened.context);
  await opened.page.goto(fileUrl(path));
  return { ...opened, form: opened.page.locator("dialog.form") };
}

/** The form of a job, opened as a page opens it. */
export async function recording(draft = DRAFT, options = {}, prepare = null) {
  const on = await onPage(GUIDE, options, prepare);
  await openRecord(on.page, draft);
  return on;
}

export async function openRecord(page, draft) {
  await page.evaluate((given) => globalThis.garboard.need("record", (record) => record.open(given)), draft);
  await page.locator("dialog.form form").waitFor();
}

export async function noting() {
  const on = await onPage("index.html");
  await on.page.getByRole("button", { name: "Note something" }).click();
  await on.form.locator("form").waitFor();
  return on;
}

export const make = (form) => form.getByRole("button", { name: "Make the entry" }).click();
export const text = (form) => form.locator("textarea.entrytext").inputValue();
export const kept = (page) => page.evaluate(() => JSON.parse(localStorage.getItem(`garboard:${document.documentElement.dataset.book}:records`)));

/** Saves the entry as a file, as a browser does. */
export async function saved(page, form, name) {
  const [download] = await Promise.all([page.waitForEvent("download"), form.getByRole("button", { name: "Save as a file" }).click()]);
  const path = join(folder, name, download.suggestedFilename());
  await download.saveAs(path);
  return path;
}

export function garboard(book, ...args) {
  const run = spawnSync(program, args, { cwd: book, encoding: "utf8" });
  return { status: run.status, out: run.stdout, err: run.stderr };
}

/** A copy of the demo book, into which files are taken; returns it with the paths of the new entries. */
export function taken(name, ...files) {
  const book = join(folder, name);
  cpSync(join(project, "content"), join(book, "content"), { recursive: true });
  const run = garboard(book, "enter", "--on", "2026-11-24", "--from", ...files);
  assert.equal(run.status, 0, run.err);
  return { book, run, entries: run.out.split("\n").filter((line) => line.startsWith("entered ")).map((line) => line.slice("entered ".length)) };
}

export function published(book) {
  const run = garboard(book, "publish", "--on", "2026-11-24");
  assert.equal(run.status, 0, run.err);
  return (path) => pathToFileURL(join(book, "site", path)).href;
}
