// The quick note from the first page, what is kept on the phone, and both forms by day and in red light.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DRAFT, axeSource, kept, make, noting, onPage, published, recording, saved, setUp, taken, tearDown, text } from "./phone.mjs";
import { fileUrl, setLight } from "./site.mjs";

before(setUp);
after(tearDown);

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

test("a reading only known about is said to be, and held against nothing", async () => {
  const folder = mkdtempSync(join(tmpdir(), "garboard-about-"));
  const entry = join(folder, "about.md");
  writeFileSync(entry, "---\nwork: [Came home]\ndate: ~2026-11\nmeters: {engine: ~520}\n---\n");
  const page = published(taken("about-book", entry).book);
  rmSync(folder, { recursive: true });
  const on = await noting();
  await on.page.goto(page("index.html"));
  await on.page.getByRole("button", { name: "Note something" }).click();
  await on.form.getByText("last about 520 h, read about November 2026").waitFor();
  await on.form.getByLabel("Engine hours").fill("515");
  assert.equal(await on.form.getByText("This is lower than it was").isVisible(), false);
  await on.context.close();
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
