// From the phone to the log: a record made on a page is saved, taken in by `garboard enter`, and
// stands on the pages of the next publish. The day is 2026-11-24, that of the published demo site.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { createRequire } from "node:module";
import { spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { fileUrl, launch, open, setLight } from "./site.mjs";

const project = resolve(dirname(fileURLToPath(import.meta.url)), "../..");
const program = [process.env.GARBOARD, join(project, "target/release/garboard"), join(project, "target/debug/garboard")].find((path) => path && existsSync(path));
const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const NOW = new Date("2026-11-24T15:00:00");
const GUIDE = "guides/oil-and-filter.html";
const DRAFT = {
  kind: "work", jobs: ["oil-and-filter"], guide: "oil-and-filter", title: "Change the engine oil and filter", begun: "2026-11-24T10:05", finished: true,
  left: [], minutes: 160, readings: { "oil-pressure": "3.4", "oil-drained": "6 L" }, findings: [{ what: "Weep at the rocker cover", grade: "watch", step: "step-3" }], notes: "",
};
/* What YAML could take for something else, and what people write. */
const HOSTILE = [
  `a "quote" and 'another'`, "colon: and: more:", "# no comment", "- no list", "--- no end", "{no: map}", "[no, list]", "012", "3.0", "2026-11-24", "yes", "No", "null", "~",
  "*no-anchor", "&no-anchor", "!no-tag", "%no-directive", "@at", "`tick`", "back\\slash \\n", "a, b", "? no key", "| no block", "> no fold", "שמן המנוע", "🧯 🛟", "Ölwechsel, 5 µm", "<b>no tag</b>",
];

let browser, folder;
before(async () => {
  assert.ok(program, "build the program first, or name it in GARBOARD");
  browser = await launch();
  folder = mkdtempSync(join(tmpdir(), "garboard-record-"));
});
after(async () => {
  await browser.close();
  rmSync(folder, { recursive: true });
});

async function onPage(path, options = {}, prepare = null) {
  const opened = await open(browser, { viewport: { width: 360, height: 740 }, ...options });
  await opened.page.clock.setFixedTime(NOW);
  if (prepare) await prepare(opened.context);
  await opened.page.goto(fileUrl(path));
  return { ...opened, form: opened.page.locator("dialog.form") };
}

/** The form of a job, opened as a page opens it. */
async function recording(draft = DRAFT, options = {}, prepare = null) {
  const on = await onPage(GUIDE, options, prepare);
  await openRecord(on.page, draft);
  return on;
}

async function openRecord(page, draft) {
  await page.evaluate((given) => globalThis.garboard.need("record", (record) => record.open(given)), draft);
  await page.locator("dialog.form form").waitFor();
}

async function noting() {
  const on = await onPage("index.html");
  await on.page.getByRole("button", { name: "Note something" }).click();
  await on.form.locator("form").waitFor();
  return on;
}

const make = (form) => form.getByRole("button", { name: "Make the entry" }).click();
const text = (form) => form.locator("textarea.entrytext").inputValue();
const kept = (page) => page.evaluate(() => JSON.parse(localStorage.getItem(`garboard:${document.documentElement.dataset.book}:records`)));

/** Saves the entry as a file, as a browser does. */
async function saved(page, form, name) {
  const [download] = await Promise.all([page.waitForEvent("download"), form.getByRole("button", { name: "Save as a file" }).click()]);
  const path = join(folder, name, download.suggestedFilename());
  await download.saveAs(path);
  return path;
}

function garboard(book, ...args) {
  const run = spawnSync(program, args, { cwd: book, encoding: "utf8" });
  return { status: run.status, out: run.stdout, err: run.stderr };
}

/** A copy of the demo book, into which files are taken; returns it with the paths of the new entries. */
function taken(name, ...files) {
  const book = join(folder, name);
  cpSync(join(project, "content"), join(book, "content"), { recursive: true });
  const run = garboard(book, "enter", "--on", "2026-11-24", "--from", ...files);
  assert.equal(run.status, 0, run.err);
  return { book, run, entries: run.out.split("\n").filter((line) => line.startsWith("entered ")).map((line) => line.slice("entered ".length)) };
}

function published(book) {
  const run = garboard(book, "publish", "--on", "2026-11-24");
  assert.equal(run.status, 0, run.err);
  return (path) => pathToFileURL(join(book, "site", path)).href;
}

test("from the page to the log and back to the page", async () => {
  const { page, form, trouble, context } = await recording();
  assert.equal(await form.getByLabel("Hours it took").inputValue(), "2");
  assert.equal(await form.getByLabel("Minutes").inputValue(), "40");
  await form.getByLabel("Engine hours").fill("540,5");
  await form.getByLabel("Oil filter", { exact: true }).check();
  // The demo book counted 4 L on 2026-10-24; more than that would be told of.
  await form.getByLabel("Quantity: Engine oil").fill("2");
  await form.getByRole("button", { name: "Another item" }).click();
  await form.getByLabel("Item").fill("Rag, old");
  await form.getByLabel("Done by").selectOption("owner");
  await form.getByLabel("Notes").fill("Warmed her up alongside.\n\n- two rags");
  await make(form);
  await form.getByText("Kept on this phone.").waitFor();
  const file = await saved(page, form, "good");
  assert.match(file, /2026-11-24-oil-and-filter\.md$/);
  await form.getByText("look in your downloads").waitFor();
  const written = readFileSync(file, "utf8");
  assert.equal(written, await text(form));
  assert.equal(
    written.replace(/record: \w{20} 1\n/, "record: ID\n"),
    `---
# record: ID
jobs: [oil-and-filter]
date: 2026-11-24
meters: {engine: 540.5}
time: 2 h 40 min
parts:
  - {item: oil-filter, qty: 1}
  - {item: engine-oil, qty: 2 L}
  - {item: "Rag, old"}
readings: {oil-drained: 6 L, oil-pressure: 3.4 bar}
findings:
  - {what: Weep at the rocker cover, grade: watch}
done-by: owner
---
Warmed her up alongside.

- two rags
`,
  );
  const { book, run, entries } = taken("good-book", file);
  assert.deepEqual(entries, ["content/log/2026/2026-11-24-oil-and-filter.md"]);
  assert.equal(run.err, "");
  assert.equal(readFileSync(join(book, entries[0]), "utf8"), written);
  assert.match(garboard(book, "enter", "--on", "2026-11-24", "--from", file).out, /in the log already/);

  const url = published(book);
  const [record] = await kept(page);
  await page.goto(url(GUIDE));
  const last = page.locator(".stands a.big").first();
  assert.match(await last.textContent(), /24 November 2026/);
  await last.click();
  assert.match(await page.locator(":target").textContent(), /Weep at the rocker cover/);
  /* The phone now knows which record is home. */
  await page.goto(url("index.html"));
  await page.evaluate((one) => localStorage.setItem(`garboard:${document.documentElement.dataset.book}:records`, JSON.stringify([one])), record);
  await page.getByRole("button", { name: "Note something" }).click();
  await page.getByText("In the log of these pages").waitFor();
  assert.deepEqual(trouble.filter((line) => !line.includes(pathToFileURL(book).href)), []);
  await context.close();
});

test("hostile words in every field reach the page as they were", async () => {
  const left = HOSTILE.filter((one) => !/^[~]$/.test(one));
  const draft = { ...DRAFT, finished: false, left, findings: HOSTILE.map((what) => ({ what, grade: "good" })), reached: "Change the filter" };
  const { page, form, context } = await recording(draft);
  await form.getByLabel("Name").fill(`"Tove": # {x}`);
  for (const one of HOSTILE) {
    await form.getByRole("button", { name: "Another item" }).click();
    await form.getByLabel("Item").last().fill(one);
  }
  await form.getByLabel("Notes").fill("--- : # {x} \"y\" 'z' שמן 🧯\u0007\u0000 end");
  await make(form);
  const file = await saved(page, form, "hostile");
  const { book, run, entries } = taken("hostile-book", file);
  assert.doesNotMatch(run.err, /error/);
  const url = published(book);
  const entry = readFileSync(join(book, entries[0]), "utf8");
  assert.equal(entry, readFileSync(file, "utf8"));
  await page.goto(url("log/2026.html")).catch(() => {});
  const log = readdirSync(join(book, "site/log")).map((name) => `log/${name}`);
  let shown = "";
  for (const path of log) {
    await page.goto(url(path));
    const article = page.locator(`[id="2026-11-24-oil-and-filter"]`);
    if (await article.count()) shown = (await article.evaluate((node) => node.textContent)).replace(/\s+/g, " ");
  }
  for (const one of HOSTILE) assert.ok(shown.includes(one), `${one} is not in ${shown}`);
  assert.ok(shown.includes(`"Tove": # {x}`), shown);
  assert.ok(shown.includes("end"), shown);
  await context.close();
});

test("a job begun says how she was left", async () => {
  const draft = { ...DRAFT, finished: false, begun: "2026-11-23T16:00", left: ["start key out", "no oil in the engine"], reached: "Refill", minutes: 25, readings: {}, findings: [] };
  const { page, form, context } = await recording(draft);
  await form.getByText("How she was left").waitFor();
  assert.equal(await form.getByLabel("Done on").isVisible(), false);
  await make(form);
  const written = await text(form);
  assert.match(written, /\nstarted: 2026-11-23\nreached: Refill\nleft:\n  - start key out\n  - no oil in the engine\ntime: 25 min\n---\n$/);
  const { entries } = taken("open-book", await saved(page, form, "open"));
  assert.deepEqual(entries, ["content/log/2026/2026-11-23-oil-and-filter.md"]);
  await context.close();
});

test("what is amiss is said at once, and nothing is made of it", async () => {
  const { form, context } = await recording();
  const engine = form.getByLabel("Engine hours");
  /* The demo log's last reading is 512.5 h on 2026-10-10. */
  await form.getByText("last 512.5 h on 10 October 2026").waitFor();
  await engine.pressSequentially("512");
  await form.getByText("lower than it was").waitFor();
  await engine.fill("512.5");
  assert.equal(await form.getByText("lower than it was").count(), 0);
  await form.getByLabel("oil-pressure").fill("1.9");
  await form.getByText("Outside its limits").waitFor();
  await engine.fill("a lot");
  await make(form);
  assert.equal(await form.locator("textarea.entrytext").count(), 0);
  assert.equal(await engine.evaluate((node) => node === document.activeElement && node.getAttribute("aria-invalid") === "true"), true);
  await engine.fill("");
  await form.getByLabel("Done on").fill("2026-11-20");
  await make(form);
  await form.getByText("Done before it was begun").waitFor();
  await context.close();
});

test("where storage is refused, the page says that nothing is kept, and the file is saved all the same", async () => {
  const forbid = (context) =>
    context.addInitScript(() => {
      const refuse = () => { throw new DOMException("refused", "SecurityError"); };
      Object.defineProperty(globalThis, "localStorage", { get: refuse });
    });
  const { page, form, trouble, context } = await recording(DRAFT, {}, forbid);
  await make(form);
  await form.getByText("Not kept: this browser stores nothing here.").waitFor();
  assert.equal(await form.getByText("Kept on this phone.").count(), 0);
  assert.equal(readFileSync(await saved(page, form, "refused"), "utf8"), await text(form));
  assert.deepEqual(trouble, []);
  await context.close();
});

test("a full storage is no keeping", async () => {
  const full = (context) => context.addInitScript(() => { Storage.prototype.setItem = () => {}; });
  const { form, context } = await recording(DRAFT, {}, full);
  await make(form);
  await form.getByText("Not kept").waitFor();
  await context.close();
});

test("the text is copied, with a clipboard and without", async () => {
  for (const without of [false, true]) {
    const prepare = (context) =>
      context.addInitScript((none) => {
        const clipboard = none ? undefined : { writeText: (words) => { globalThis.copiedWords = words; return Promise.resolve(); } };
        Object.defineProperty(navigator, "clipboard", { value: clipboard, configurable: true });
        document.addEventListener("copy", () => { globalThis.copiedWords = document.activeElement.value; });
      }, without);
    const { page, form, context } = await recording(DRAFT, {}, prepare);
    await make(form);
    await form.getByRole("button", { name: "Copy the text" }).click();
    await form.locator(".told").getByText(/Copied|by hand/).waitFor();
    const area = form.locator("textarea.entrytext");
    if (without) assert.equal(await area.evaluate((node) => node.selectionEnd - node.selectionStart), (await text(form)).length);
    else assert.equal(await page.evaluate(() => globalThis.copiedWords), await text(form));
    await context.close();
  }
});

test("the share sheet is offered where it takes files", async () => {
  const sheet = (context) =>
    context.addInitScript(() => {
      navigator.canShare = (what) => what.files.every((file) => file.type === "text/plain");
      navigator.share = async (what) => { globalThis.sharedFile = { name: what.files[0].name, text: await what.files[0].text() }; };
    });
  const { page, form, context } = await recording(DRAFT, {}, sheet);
  await make(form);
  await form.getByRole("button", { name: "Share" }).click();
  await form.getByText("Handed on.").waitFor();
  const given = await page.evaluate(() => globalThis.sharedFile);
  assert.deepEqual(given, { name: "2026-11-24-oil-and-filter.txt", text: await text(form) });
  await context.close();
  const plain = await recording();
  await make(plain.form);
  assert.equal(await plain.form.getByRole("button", { name: "Share" }).count(), 0);
  await plain.context.close();
});

test("a record that is changed stays one record, and comes off only when meant", async () => {
  const { page, form, context } = await recording();
  await make(form);
  const first = await text(form);
  await form.getByRole("button", { name: "Change" }).click();
  await form.getByLabel("Engine hours").fill("541");
  await make(form);
  const second = await text(form);
  const [one, two] = [first, second].map((words) => words.split("\n")[1].split(" "));
  assert.deepEqual([one[2], one[3], two[3]], [two[2], "1", "2"]);
  assert.match(second, /meters: \{engine: 541\}/);
  const list = await kept(page);
  assert.deepEqual(list.map((one) => [one.day, one.title, one.text]), [["2026-11-24", DRAFT.title, second]]);
  await form.getByRole("button", { name: "Close" }).click();
  assert.equal(await form.count(), 0);
  await page.goto(fileUrl("index.html"));
  await page.getByText("Kept on this phone, to bring home: 1").waitFor();
  await page.getByRole("button", { name: "Note something" }).click();
  await form.getByText("1 record kept on this phone").waitFor();
  await form.getByText("Not yet in the log of these pages.").waitFor();
  await form.getByRole("button", { name: "Show" }).click();
  assert.equal(await text(form), second);
  await form.getByRole("button", { name: "Close" }).click();
  await page.getByRole("button", { name: "Note something" }).click();
  const off = form.locator(".keptlist li button").last();
  await off.click();
  assert.equal((await kept(page)).length, 1);
  await off.click();
  assert.equal(await kept(page), null);
  await context.close();
});

test("what was typed is there again after the page was left", async () => {
  const { page, form, context } = await recording();
  await form.getByLabel("Notes").fill("Half a sentence");
  await page.keyboard.press("Escape");
  assert.equal(await form.count(), 0);
  await page.reload();
  await openRecord(page, DRAFT);
  assert.equal(await form.getByLabel("Notes").inputValue(), "Half a sentence");
  await context.close();
});

test("work that is finished later goes on in the same record", async () => {
  const begun = { ...DRAFT, finished: false, left: ["start key out"], readings: {}, findings: [] };
  const { page, form, context } = await recording(begun);
  await form.getByLabel("Name").fill("Tove");
  await make(form);
  const id = (await text(form)).split("\n")[1].split(" ")[2];
  await form.getByRole("button", { name: "Close" }).click();
  await page.reload();
  await openRecord(page, { ...DRAFT, findings: [] });
  assert.equal(await form.getByLabel("Name").inputValue(), "Tove");
  assert.equal(await form.getByLabel("oil-pressure").inputValue(), "3.4");
  await make(form);
  assert.match(await text(form), new RegExp(`^---\n# record: ${id} 2\njobs: \\[oil-and-filter\\]\ndate: 2026-11-24\n`));
  assert.equal((await kept(page)).length, 1);
  await context.close();
});

test("every word that the parts say is there", async () => {
  const theme = join(project, "themes/jobsheet");
  const words = Object.keys(JSON.parse(/\}\)\((.*)\);\s*$/.exec(readFileSync(join(process.env.GARBOARD_SITE, "assets/words-more.js"), "utf8"))[1]));
  const asked = ["forms", "fields", "kept", "record", "note"].flatMap((name) =>
    [...readFileSync(join(theme, `${name}.js`), "utf8").matchAll(/\bsay\((?:copied \? )?"([a-z-]+)"(?: : "([a-z-]+)")?/g)].flatMap((found) => found.slice(1).filter(Boolean)));
  const made = ["grade-act", "grade-watch", "grade-good", "by-owner", "by-yard", "by-licensed"];
  const needed = new Set([...asked.filter((key) => !key.endsWith("-")), ...made].map((key) => `record.${key}`));
  assert.ok(needed.size > 60, `only ${needed.size} were found`);
  assert.deepEqual([...needed].filter((key) => !words.includes(key)), []);
  assert.deepEqual(words.filter((key) => key.startsWith("record.") && !needed.has(key)), []);
});

test("the quick note's five acts make an entry that the log takes", async () => {
  const { page, form, trouble, context } = await noting();
  await form.getByLabel("Daily look round the engine").check();
  await form.getByLabel("Engine hours").fill("513");
  await form.getByLabel("Item").fill("Engine oil 15W-40");
  await form.getByLabel("Quantity").fill("0,5");
  await form.getByLabel("What was seen").fill("Drip at the raw water pump");
  await form.getByLabel("Grade").selectOption("act");
  await form.getByLabel("A line of words").fill("Topped up: half a litre");
  await make(form);
  await form.getByText("Kept on this phone.").waitFor();
  assert.equal(
    (await text(form)).replace(/record: \w{20} 1\n/, "record: ID\n"),
    `---
# record: ID
jobs: [engine-room-check]
work:
  - "Topped up: half a litre"
date: 2026-11-24
meters: {engine: 513}
parts:
  - {item: engine-oil, qty: 0.5 L}
findings:
  - {what: Drip at the raw water pump, grade: act}
---
`,
  );
  const { book, run, entries } = taken("note-book", await saved(page, form, "note"));
  assert.equal(run.err, "");
  assert.deepEqual(entries, ["content/log/2026/2026-11-24-engine-room-check.md"]);
  published(book);
  assert.deepEqual(trouble, []);
  await context.close();
});

for (const [act, fill, expected, file] of [
  ["a meter", (form) => form.getByLabel("Miles by log").fill("30800"), /work:\n  - Meters read\ndate: 2026-11-24\nmeters: \{miles: 30800\}\n/, "meters-read"],
  ["something used", async (form) => { await form.getByLabel("Item").fill("Oil filter"); await form.getByLabel("Quantity").fill("1"); }, /- Used Oil filter\n.*\nparts:\n  - \{item: oil-filter, qty: 1\}\n/, "used-oil-filter"],
  ["a finding", (form) => form.getByLabel("What was seen").fill("yes"), /work: \["yes"\]\n.*\nfindings:\n  - \{what: "yes", grade: watch\}\n/, "yes"],
  ["a round", (form) => form.getByLabel("Daily look round the engine").check(), /jobs: \[engine-room-check\]\ndate: 2026-11-24\n---\n/, "engine-room-check"],
  ["words", (form) => form.getByLabel("A line of words").fill("Dolphins: five"), /work:\n  - "Dolphins: five"\ndate/, "dolphins-five"],
]) {
  test(`${act} alone is a note`, async () => {
    const { page, form, context } = await noting();
    await fill(form);
    await make(form);
    assert.match(await text(form), expected);
    const { entries } = taken(`one-${file}`, await saved(page, form, `one-${file}`));
    assert.deepEqual(entries, [`content/log/2026/2026-11-24-${file}.md`]);
    await context.close();
  });
}

test("nothing is no note", async () => {
  const { page, form, context } = await noting();
  await make(form);
  await form.getByText("There is nothing to note yet").waitFor();
  assert.equal(await kept(page), null);
  await context.close();
});

test("what another program has left in the storage does no harm", async () => {
  for (const spoiled of ["{", "7", "[1, null, {}]", '{"a":1}']) {
    const { page, form, trouble, context } = await onPage("index.html");
    await page.evaluate((text) => localStorage.setItem(`garboard:${document.documentElement.dataset.book}:records`, text), spoiled);
    await page.reload();
    await page.getByRole("button", { name: "Note something" }).click();
    await form.getByLabel("A line of words").fill("x");
    await make(form);
    await form.getByText("Kept on this phone.").waitFor();
    assert.equal((await kept(page)).length, 1);
    assert.deepEqual(trouble.filter((line) => !line.startsWith("console: garboard:")), []);
    await context.close();
  }
});

for (const light of ["day", "night"]) {
  test(`no accessibility violation and nothing too wide at 360 px by ${light}`, async () => {
    const found = [];
    const look = async (page, name) => {
      await page.evaluate(axeSource);
      const result = await page.evaluate(() =>
        globalThis.axe.run(document, { preload: false, runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }),
      );
      found.push(...result.violations.map((one) => `${name}: ${one.id} ${one.nodes.map((node) => node.target.join(" ")).slice(0, 3).join(" | ")}`));
      const wide = await page.evaluate(() => { const box = document.querySelector("dialog.form"); return box.scrollWidth > box.clientWidth; });
      if (wide) found.push(`${name}: wider than the screen`);
      const small = await page.$$eval("dialog.form button, dialog.form label.choice, dialog.form select, dialog.form input:not([type=checkbox], [type=radio])", (all) =>
        all.filter((node) => node.checkVisibility() && node.getBoundingClientRect().height < 43.5).map((node) => node.outerHTML.slice(0, 60)));
      found.push(...small.map((one) => `${name}: too low for a thumb: ${one}`));
    };
    const prepare = (context) => setLight(context, light);
    const { page, form, context } = await recording({ ...DRAFT, finished: false, left: ["start key out"] }, {}, prepare);
    await form.getByLabel("Engine hours").fill("1");
    await form.getByRole("button", { name: "Another item" }).click();
    await look(page, "record");
    await form.getByLabel("Engine hours").fill("");
    await make(form);
    await look(page, "made");
    await page.goto(fileUrl("index.html"));
    await page.getByRole("button", { name: "Note something" }).click();
    await form.getByText("1 record kept on this phone").waitFor();
    await look(page, "note");
    assert.deepEqual(found, []);
    await context.close();
  });
}
