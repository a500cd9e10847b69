// Work in hand: what is still off is never lost, and whoever goes on is led to the right step.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { fileUrl, launch, open } from "./site.mjs";

const OIL = "guides/oil-and-filter.html";
const STEERING = "guides/steering-wire-renewal.html";
const phone = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };
const WORK = "garboard:skerrywake:work:oil-and-filter";
// As content/log/2026/2026-11-08-steering-wire-renewal.md has it.
const LEFT = ["steering wires off and no steering at the wheel", "emergency tiller in the cockpit locker", "quadrant lashed amidships and wheel brake on", "autopilot breaker off and tagged"];

let browser;
before(async () => { browser = await launch(); });
after(() => browser.close());

const press = (page, name) => page.getByRole("button", { name, exact: true }).click();
const now = (page) => page.locator(".step:not(.off):visible").getAttribute("id");
const stored = (page, key) => page.evaluate((name) => JSON.parse(localStorage.getItem(name)), key);
const background = (place) => place.evaluate((node) => getComputedStyle(node).backgroundColor);

async function begin(page, path = OIL) {
  await page.goto(fileUrl(path));
  await page.locator(".head .work").click();
  await page.locator("#_dock").waitFor();
}

/** Works the oil change to where the start key is off (its third step), and asks to finish. */
async function finishWithTheKeyOff(page) {
  await begin(page);
  await press(page, "First step");
  for (let step = 0; step < 3; step += 1) await press(page, "Done");
  await press(page, "Whole list");
  await press(page, "To the end");
  await press(page, "Finish and make the entry");
}

async function entryOf(page) {
  const form = page.locator("dialog.form");
  await form.getByRole("button", { name: "Make the entry" }).click();
  return form.locator("textarea.entrytext").inputValue();
}

test("a job finished with something off carries it on as a finding to be put right", async () => {
  const { context, page, trouble } = await open(browser, phone);
  await finishWithTheKeyOff(page);
  assert.match(await page.locator("#_panel").innerText(), /no longer listed as shut, off or apart/);
  const answers = await page.locator("#_panel button").allTextContents();
  assert.ok(answers.indexOf("Not finished: make the entry") < answers.indexOf("Finish all the same"), answers.join(", "));
  await press(page, "Finish all the same");
  const form = page.locator("dialog.form");
  await form.getByText("each line goes into the entry as a finding").waitFor();
  const entry = await entryOf(page);
  assert.match(entry, /findings:\n {2}- \{what: "start key: still shut, off or apart", grade: act\}\n/);
  assert.doesNotMatch(entry, /^left:/m);
  assert.deepEqual(trouble, []);
  await context.close();
});

test("or the job stays open, and its entry says how the boat is left", async () => {
  const { context, page } = await open(browser, phone);
  await finishWithTheKeyOff(page);
  await press(page, "Not finished: make the entry");
  const form = page.locator("dialog.form");
  assert.equal(await form.getByText("each line goes into the entry as a finding").isVisible(), false);
  const entry = await entryOf(page);
  assert.match(entry, /\nstarted: .*\nreached: .*\nleft:\n {2}- "start key: still shut, off or apart"\n/);
  assert.doesNotMatch(entry, /grade: act/);
  await context.close();
});

test("a record turned from open to finished keeps what is off, too", async () => {
  const { context, page } = await open(browser, phone);
  await finishWithTheKeyOff(page);
  await press(page, "Not finished: make the entry");
  const form = page.locator("dialog.form");
  await form.getByLabel("Finished", { exact: true }).check();
  assert.equal(await form.getByLabel("What is shut, off or apart").isVisible(), true);
  assert.match(await entryOf(page), /what: "start key: still shut, off or apart", grade: act/);
  await context.close();
});

test("a job that the log has open is gone on with where it was left", async () => {
  const { context, page, trouble } = await open(browser, phone);
  await begin(page, STEERING);
  const panel = page.locator("#_panel");
  const told = await panel.innerText();
  for (const line of ["Begun already, according to the log", "8 November 2026", ...LEFT]) assert.ok(told.includes(line), `${line} is not in ${told}`);
  // High on the view: before the cautions and all else of the sheet.
  assert.ok((await panel.boundingBox()).y < (await page.locator("#cautions").boundingBox()).y);
  assert.ok((await panel.boundingBox()).y < 200);
  assert.deepEqual(await page.locator("#_panel .main").allTextContents(), ["Go on from “Make up the wires”"]);
  assert.ok(await page.getByRole("button", { name: "From the beginning" }).isVisible());
  for (const line of LEFT) assert.ok((await page.locator("#_dock .shut").innerText()).includes(line), line);
  await press(page, "Go on from “Make up the wires”");
  assert.equal(await now(page), "s-make-up-the-wires--1");
  // What its steps isolated before is off; the stage it runs alongside is not taken as done.
  for (const line of ["autopilot breaker", "steering wheel", ...LEFT]) assert.ok((await page.locator("#_dock .shut").innerText()).includes(line), line);
  const { ticks } = await stored(page, "garboard:skerrywake:work:steering-wire-renewal");
  // "Ready the boat" has 4 steps, "Disconnect" 5.
  assert.equal(Object.keys(ticks).length, 9);
  assert.ok(Object.keys(ticks).every((id) => /^s-(ready-the-boat|disconnect)--/.test(id)), Object.keys(ticks).join(", "));
  assert.deepEqual(trouble, []);
  await context.close();
});

test("the first page tells what this phone has in hand", async () => {
  const { context, page, trouble } = await open(browser, phone);
  await page.goto(fileUrl("index.html"));
  assert.equal(await page.locator("#_inhand").count(), 0);
  await begin(page);
  await press(page, "First step");
  for (let step = 0; step < 4; step += 1) await press(page, "Done");
  await page.getByRole("button", { name: /^Break off/ }).click();
  assert.match(await page.locator("#_panel").innerText(), /written nowhere but on this phone/);
  await press(page, "Break off without an entry");
  for (const path of ["index.html", "pocket.html"]) {
    await page.goto(fileUrl(path));
    const told = await page.locator("#_inhand").innerText();
    assert.match(told, /On this phone[^]*Change the engine oil and filter begun: 4 of 21 steps ticked off; still shut, off or apart: start key/, path);
  }
  await page.goto(fileUrl("index.html"));
  await page.locator("#_inhand a").click();
  assert.match(page.url(), /guides\/oil-and-filter\.html$/);
  assert.deepEqual(trouble, []);
  await context.close();
});

test("the safe stop is judged by what is done", async () => {
  const { context, page } = await open(browser, phone);
  await begin(page, "guides/steering-wire-renewal.html");
  await press(page, "From the beginning");
  // "Ready the boat" ends with a safe stop, its fourth step.
  for (let step = 0; step < 3; step += 1) await press(page, "Done");
  await page.getByRole("button", { name: /^Break off/ }).click();
  assert.match(await page.locator("#_panel").innerText(), /This is no safe stop[^]*The next safe stop comes after Ready the boat, 4/);
  await press(page, "Go on working");
  await press(page, "Done");
  assert.equal(await now(page), "s-disconnect--1");
  await press(page, "Break off here");
  assert.match(await page.locator("#_panel").innerText(), /This is a safe stop/);
  await press(page, "Go on working");
  await press(page, "Done");
  await page.getByRole("button", { name: /^Break off/ }).click();
  assert.match(await page.locator("#_panel").innerText(), /This is no safe stop/);
  await context.close();
});

test("a figure read since makes it no safe stop", async () => {
  const { context, page } = await open(browser, phone);
  await page.goto(fileUrl(STEERING));
  await begin(page, STEERING);
  await press(page, "Whole list");
  for (const box of await page.locator(".tick input").all()) {
    await box.check();
    // "Tension" 3 hangs for a day: a safe stop; its fourth step asks for a reading.
    if ((await box.inputValue()) === "s-tension--3") break;
  }
  await press(page, "Step by step");
  await page.evaluate(() => { location.hash = "s-tension--4"; });
  await page.locator("#s-tension--4").waitFor();
  assert.equal(await page.getByRole("button", { name: "Break off here" }).count(), 1);
  await page.locator("#s-tension--4 .taken input").first().fill("15");
  await press(page, "Next");
  await press(page, "Back");
  await page.getByRole("button", { name: "Break off", exact: true }).waitFor();
  await context.close();
});

test("going on leads to the first step that is not ticked off", async () => {
  const { context, page } = await open(browser, phone);
  await begin(page);
  await press(page, "First step");
  await press(page, "Done");
  await press(page, "Next"); // The second step, with its danger of carbon monoxide, is passed over.
  await press(page, "Done");
  await press(page, "Back");
  await page.getByRole("button", { name: /^Break off/ }).click();
  await press(page, "Break off without an entry");
  await page.locator(".head .work", { hasText: "Go on with it" }).click();
  assert.equal(await now(page), "s-warm-up--2");
  assert.match(await page.locator(".step:visible").innerText(), /carbon monoxide/);
  // A tick is taken back by a quiet button; the filled one leads on.
  await press(page, "Back");
  const clear = "rgba(0, 0, 0, 0)";
  assert.equal(await background(page.getByRole("button", { name: "Not done" })), clear);
  assert.notEqual(await background(page.getByRole("button", { name: "Next" })), clear);
  await context.close();
});

test("a caution is read in full beside the step, and the way back leads to the step", async () => {
  const { context, page, trouble } = await open(browser, phone);
  await begin(page);
  await press(page, "First step");
  const link = page.locator(".again a.what").first();
  const whole = await page.locator(await link.getAttribute("href")).evaluate((node) => node.textContent.replace(/\s+/g, " ").trim());
  await link.click();
  assert.equal(await now(page), "s-warm-up--1");
  const shown = page.locator(".again .unfolded");
  assert.ok(await shown.isVisible());
  assert.equal(await shown.evaluate((node) => node.textContent.replace(/\s+/g, " ").trim()), whole);
  assert.equal(await link.getAttribute("aria-expanded"), "true");
  await link.click();
  assert.equal(await shown.count(), 0);
  // A link to what only the whole sheet shows: the phone's way back leads to the step again.
  await page.evaluate(() => { location.hash = "tools"; });
  await page.locator("#tools:visible").waitFor();
  await page.goBack();
  await page.locator("#_where", { hasText: "Step 1 of 21" }).waitFor();
  assert.equal(await page.locator(".step:visible").count(), 1);
  assert.deepEqual(trouble, []);
  await context.close();
});

test("a swipe stays in the page", async () => {
  const { context, page } = await open(browser, phone);
  await begin(page);
  await press(page, "First step");
  const held = await page.evaluate(() => [document.documentElement, document.body].map((one) => getComputedStyle(one).overscrollBehaviorX));
  assert.deepEqual(held, ["contain", "contain"]);
  assert.equal(await page.evaluate(() => getComputedStyle(document.getElementById("sheet")).touchAction), "pan-y pinch-zoom");
  await context.close();
});

test("what is read aloud has one stop after each part", async () => {
  const { context, page } = await open(browser, phone);
  await begin(page);
  await press(page, "First step");
  await press(page, "Next");
  const told = await page.locator("#_dock + [role=status]").textContent();
  assert.match(told, /^Step 2 of 21\. Warm up\. DANGER/);
  assert.doesNotMatch(told, /\.\./);
  await context.close();
});

test("a finding is seen to be noted, and an empty one is asked for", async () => {
  const { context, page } = await open(browser, phone);
  await begin(page);
  await press(page, "First step");
  await press(page, "Finding");
  await press(page, "Note it");
  assert.ok(await page.getByText("Write what you saw first.").isVisible());
  await page.getByLabel("What did you see?").fill("Weep at the cover");
  await press(page, "Note it");
  assert.ok(await page.locator("#_dock").getByText("Noted: Weep at the cover").isVisible());
  await press(page, "Next");
  assert.equal(await page.getByText("Noted: Weep at the cover").count(), 0);
  await context.close();
});

test("readings go by their titles, and boxes to tick are square", async () => {
  const { context, page } = await open(browser, phone);
  await finishWithTheKeyOff(page);
  await press(page, "Finish all the same");
  const form = page.locator("dialog.form");
  await form.getByLabel("Oil drained").waitFor();
  assert.equal(await form.getByText("oil-drained").count(), 0);
  assert.equal(await form.locator(".offered input[type=checkbox]").first().evaluate((node) => getComputedStyle(node).borderRadius), "0px");
  await context.close();
});

test("the first page follows what another page of this phone does", async () => {
  const { context, page } = await open(browser, phone);
  await page.goto(fileUrl("index.html"));
  const other = await context.newPage();
  await begin(other);
  await press(other, "First step");
  await press(other, "Done");
  await page.locator("#_inhand", { hasText: "1 of 21 steps" }).waitFor();
  await context.close();
});

for (const path of [OIL, "pocket.html#oil-and-filter"]) {
  test(`a meter below its last reading is spoken of at once, and does not block: ${path}`, async () => {
    const { context, page } = await open(browser, phone);
    const [file, place] = path.split("#");
    await page.goto(fileUrl(file) + (place ? `#${place}` : ""));
    await page.locator(".head .work").click();
    await page.locator("#_dock").waitFor();
    await press(page, "Whole list");
    await press(page, "To the end");
    await press(page, "Finish and make the entry");
    const form = page.locator("dialog.form");
    // The demo log's last reading is 512.5 h, of 2026-10-10.
    await form.getByLabel("Engine hours").fill("500");
    await form.getByText("lower than it was").waitFor();
    assert.match(await entryOf(page), /\nmeters: \{engine: 500\}\n/);
    await context.close();
  });
}

test("a meter in the record of a job left open is held against its last reading, too", async () => {
  const { context, page } = await open(browser, phone);
  await begin(page);
  await press(page, "First step");
  await press(page, "Done");
  await page.getByRole("button", { name: /^Break off/ }).click();
  await press(page, "Break off and make the entry");
  const form = page.locator("dialog.form");
  await form.getByLabel("Engine hours").fill("500");
  await form.getByText("lower than it was").waitFor();
  await context.close();
});
