// From the phone to the log: a record made on a page is saved, taken in by `garboard enter`, and
// stands on the pages of the next publish.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { DRAFT, GUIDE, garboard, kept, make, onPage, openRecord, project, published, recording, saved, setUp, taken, tearDown, text } from "./phone.mjs";
import { fileUrl } from "./site.mjs";

before(setUp);
after(tearDown);

/* What YAML could take for something else, and what people write. */
const HOSTILE = [
  `a "quote" and 'another'`, "colon: and: more:", "# no comment", "- no list", "--- no end", "{no: map}", "[no, list]", "012", "3.0", "2026-11-24", "yes", "No", "null", "~",
  "*no-anchor", "&no-anchor", "!no-tag", "%no-directive", "@at", "`tick`", "back\\slash \\n", "a, b", "? no key", "| no block", "> no fold", "שמן המנוע", "🧯 🛟", "Ölwechsel, 5 µm", "<b>no tag</b>",
];

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
  await form.getByText("check your downloads").waitFor();
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
  await form.getByLabel("Oil pressure").fill("1.9");
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
  await form.getByText("Sent.").waitFor();
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
  assert.equal(await form.getByLabel("Oil pressure").inputValue(), "3.4");
  await make(form);
  assert.match(await text(form), new RegExp(`^---\n# record: ${id} 2\njobs: \\[oil-and-filter\\]\ndate: 2026-11-24\n`));
  assert.equal((await kept(page)).length, 1);
  await context.close();
});

test("a second sitting goes on in the record of the first, and the times add up", async () => {
  const first = { ...DRAFT, finished: false, begun: "2026-11-22T09:00", minutes: 50, notes: "Bolt seized.", readings: {}, findings: [] };
  const second = { ...DRAFT, begun: "2026-11-24T10:00", minutes: 75, findings: [], except: ["Refill, 3: Wipe the flange"] };
  const { page, form, context } = await recording(first);
  await make(form);
  const id = (await text(form)).split("\n")[1].split(" ")[2];
  await form.getByRole("button", { name: "Close" }).click();
  await page.evaluate(() => { globalThis.garboard.clearWork = (guide, gear) => { globalThis.cleared = [guide, gear]; }; });
  await openRecord(page, second);
  await form.getByText("Goes on from the record of 22 November 2026.").waitFor();
  await make(form);
  // 50 min + 75 min = 125 min
  assert.equal(await text(form), `---
# record: ${id} 2
jobs: [oil-and-filter]
started: 2026-11-22
done: 2026-11-24
except:
  - "Refill, 3: Wipe the flange"
time: 2 h 5 min
readings: {oil-drained: 6 L, oil-pressure: 3.4 bar}
---
Bolt seized.
`);
  assert.equal((await kept(page)).length, 1);
  assert.deepEqual(await page.evaluate(() => globalThis.cleared), ["oil-and-filter", null]);
  await context.close();
});

test("the work is cleared only once its record is kept", async () => {
  const full = (context) => context.addInitScript(() => { Storage.prototype.setItem = () => {}; });
  const { page, form, context } = await recording(DRAFT, {}, full);
  await page.evaluate(() => { globalThis.garboard.clearWork = () => { globalThis.cleared = true; }; });
  await make(form);
  await form.getByText("Not kept").waitFor();
  assert.equal(await page.evaluate(() => globalThis.cleared), undefined);
  await context.close();
});

test("a job on one of several pieces of gear names it", async () => {
  const draft = { ...DRAFT, guide: "seacocks", jobs: ["seacocks/seacock-deckwash"], gear: "seacock-deckwash", title: "Service the seacocks", readings: {}, findings: [] };
  const { page, form, context } = await onPage("guides/seacocks.html");
  await openRecord(page, draft);
  const ticked = await form.locator("input[name=gear]:checked").evaluateAll((all) => all.map((one) => one.value));
  assert.deepEqual(ticked, ["seacock-deckwash"]);
  await form.getByLabel("Seacock, heads intake").check();
  await make(form);
  assert.match(await text(form), /\njobs: \[seacocks\/seacock-heads-intake, seacocks\/seacock-deckwash\]\n/);
  const { run } = taken("gear-book", await saved(page, form, "gear"));
  assert.doesNotMatch(run.err, /job-without-gear/);
  await context.close();
});

test("every word that the parts say is there", async () => {
  const theme = join(project, "themes/jobsheet");
  const words = Object.keys(JSON.parse(/\}\)\((.*)\);\s*$/.exec(readFileSync(join(process.env.GARBOARD_SITE, "assets/words-more.js"), "utf8"))[1]));
  const asked = ["forms", "fields", "kept", "record", "note"].flatMap((name) =>
    [...readFileSync(join(theme, `${name}.js`), "utf8").matchAll(/\bsay\((?:[a-z.]+ \? )?"([a-z-]+)"(?: : "([a-z-]+)")?/g)].flatMap((found) => found.slice(1).filter(Boolean)));
  const made = ["grade-act", "grade-watch", "grade-good", "by-owner", "by-yard", "by-licensed"];
  const needed = new Set([...asked.filter((key) => !key.endsWith("-")), ...made].map((key) => `record.${key}`));
  assert.ok(needed.size > 60, `only ${needed.size} were found`);
  assert.deepEqual([...needed].filter((key) => !words.includes(key)), []);
  assert.deepEqual(words.filter((key) => key.startsWith("record.") && !needed.has(key)), []);
});

test("worked through on the page, broken off, and recorded: the work waits, the record is kept", async () => {
  const { page, form, trouble, context } = await onPage(GUIDE);
  const press = (name) => page.getByRole("button", { name, exact: true }).click();
  const work = () => page.evaluate(() => JSON.parse(localStorage.getItem(`garboard:${document.documentElement.dataset.book}:work:oil-and-filter`)));
  await page.locator(".head .work").click();
  await press("First step");
  await press("Done");
  await press("Break off");
  await page.getByLabel("How the boat is left").fill("start key out\nno oil in the engine");
  await press("Break off and make the entry");
  await form.locator("form").waitFor();
  assert.equal(await form.getByLabel("Not finished yet").isChecked(), true);
  assert.equal(await form.getByLabel("What is shut, off or apart").inputValue(), "start key out\nno oil in the engine");
  assert.notEqual((await work()).begun, null);
  await make(form);
  await form.getByText("Kept on this phone.").waitFor();
  assert.match(await text(form), /\nstarted: 2026-11-24\nreached: .*\nleft:\n  - start key out\n  - no oil in the engine\n/);
  assert.equal((await work()).begun, null);
  const { entries } = taken("worked-book", await saved(page, form, "worked"));
  assert.deepEqual(entries, ["content/log/2026/2026-11-24-oil-and-filter.md"]);
  assert.deepEqual(trouble, []);
  await context.close();
});
