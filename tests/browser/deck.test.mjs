// Working through a guide on a phone: from a folder, with what the browser remembers, and without.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { createRequire } from "node:module";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { fileUrl, launch, open, site } from "./site.mjs";

const OIL = "guides/oil-and-filter.html";
const phone = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };
const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

let browser;
let temporary;
before(async () => {
  browser = await launch();
  temporary = mkdtempSync(join(tmpdir(), "garboard-deck-"));
});
after(async () => {
  await browser.close();
  rmSync(temporary, { recursive: true, force: true });
});

const press = (page, name) => page.getByRole("button", { name, exact: true }).click();
const now = (page) => page.locator(".step:not(.off):visible").getAttribute("id");
const stored = (page, key) => page.evaluate((name) => JSON.parse(localStorage.getItem(name)), key);
const WORK = "garboard:skerrywake:work:oil-and-filter";

async function begin(page, path = OIL) {
  await page.goto(path.startsWith("file:") ? path : fileUrl(path));
  await page.locator(".head .work").click();
  await page.locator("#_dock").waitFor();
}

async function axe(page) {
  await page.evaluate(axeSource);
  const result = await page.evaluate(() =>
    globalThis.axe.run(document, { preload: false, runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }),
  );
  return result.violations.map((v) => `${v.id}: ${v.nodes.map((node) => node.target.join(" ")).slice(0, 3).join(" | ")}`);
}

/** Publishes a small book with one guide; gives the address of its page. */
function small(name, guide, boat = "name: Testling\nsystems: [{id: engine, title: Engine}]\n") {
  const book = join(temporary, name, "content");
  mkdirSync(join(book, "guides", "engine"), { recursive: true });
  writeFileSync(join(book, "boat.yaml"), boat);
  writeFileSync(join(book, "guides", "engine", "job.md"), guide);
  const folder = join(temporary, name, "site");
  const binaries = ["debug", "release"]
    .map((kind) => fileURLToPath(new URL(`../../target/${kind}/garboard`, import.meta.url)))
    .filter(existsSync)
    .sort((a, b) => statSync(b).mtimeMs - statSync(a).mtimeMs);
  const binary = process.env.GARBOARD_BIN || binaries[0];
  const done = spawnSync(binary, ["publish", "--book", book, "--despite-errors", "--on", "2026-11-24", "--to", folder], { encoding: "utf8" });
  const page = join(folder, "guides", "job.html");
  assert.ok(existsSync(page), done.stderr);
  return pathToFileURL(page).href;
}

/** A page that may open any folder. */
async function free(options = {}) {
  const context = await browser.newContext({ ...phone, ...options });
  const page = await context.newPage();
  const trouble = [];
  page.on("pageerror", (error) => trouble.push(error.message));
  page.on("console", (message) => message.type() === "error" && trouble.push(message.text()));
  return { context, page, trouble };
}

async function swipe(page, dx) {
  const client = await page.context().newCDPSession(page);
  const at = (x) => [{ x, y: 300 }];
  await client.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: at(180) });
  for (const part of [0.3, 0.6, 1]) await client.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: at(180 + dx * part) });
  await client.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
}

test("one step at a time, with its cautions, tools and figures", async () => {
  const { context, page, trouble } = await open(browser, phone);
  await begin(page);
  // Before the first step stands all that the sheet says before it.
  assert.ok(await page.locator("#cautions-in-full").isVisible());
  assert.ok(await page.locator("#tools").isVisible());
  assert.equal(await page.locator("#steps").isVisible(), false);
  await press(page, "First step");
  assert.equal(await now(page), "s-warm-up--1");
  assert.equal(await page.locator(".step:visible").count(), 1);
  // Every caution of the head of the sheet is on every step's page too.
  const head = await page.locator("#cautions .cautionlines > li").allTextContents();
  assert.ok(head.length >= 5);
  assert.deepEqual(await page.locator(".again:visible .cautionlines > li").allTextContents(), head);
  await press(page, "Next");
  assert.match(await page.locator(".step:visible .caution").innerText(), /carbon monoxide/);
  // A step of a stage whose warning stands before its first step: it is repeated before each.
  await page.evaluate(() => { location.hash = "s-run-and-look--3"; });
  await page.locator("#s-run-and-look--3").waitFor();
  assert.match(await page.locator(".repeated").innerText(), /Belts and shafts take fingers/);
  const order = await page.evaluate(() => document.querySelector(".repeated").compareDocumentPosition(document.querySelector("#s-run-and-look--3 .act")) & 4);
  assert.ok(order, "the caution comes before the act");
  // The torch that the step names, with where it lies.
  assert.match(await page.locator("#s-run-and-look--3 .hand").innerText(), /[Tt]orch/);
  assert.deepEqual(trouble, []);
  await context.close();
});

test("where the reader was survives a reload and a closed page", async () => {
  const { context, page, trouble } = await open(browser, phone);
  await begin(page);
  await press(page, "First step");
  await press(page, "Done");
  await press(page, "Done");
  await press(page, "Next");
  await page.reload();
  await page.locator("#s-warm-up--4").waitFor();
  assert.equal(await now(page), "s-warm-up--4");
  await page.close();
  const again = await context.newPage();
  await again.goto(fileUrl(OIL));
  await again.locator("#_dock").waitFor();
  assert.equal(await now(again), "s-warm-up--4");
  await press(again, "Whole list");
  assert.deepEqual(await again.locator(".tick input:checked").evaluateAll((all) => all.map((box) => box.value)), ["s-warm-up--1", "s-warm-up--2"]);
  assert.deepEqual(trouble, []);
  await context.close();
});

test("a swipe moves and never ticks", async () => {
  const { context, page } = await open(browser, phone);
  await begin(page);
  await press(page, "First step");
  await swipe(page, -130);
  await page.locator("#s-warm-up--2").waitFor();
  await swipe(page, -130);
  await page.locator("#s-warm-up--3").waitFor();
  await swipe(page, 130);
  await page.locator("#s-warm-up--2").waitFor();
  assert.deepEqual((await stored(page, WORK)).ticks, {});
  await context.close();
});

test("what is shut, off or apart stays in view until it is restored, and finishing asks", async () => {
  const { context, page } = await open(browser, phone);
  await begin(page);
  const shut = page.locator("#_dock .shut");
  await press(page, "First step");
  for (let step = 0; step < 3; step += 1) await press(page, "Done");
  assert.match(await shut.innerText(), /start key/);
  await press(page, "Whole list");
  assert.match(await shut.innerText(), /start key/);
  await press(page, "To the end");
  await press(page, "Finish and make the entry");
  assert.match(await page.locator("#_panel").innerText(), /start key[^]*Put it back first/);
  await press(page, "Go to Run and look, 1");
  assert.equal(await now(page), "s-run-and-look--1");
  await press(page, "Done");
  assert.equal(await shut.isVisible(), false);
  await context.close();
});

test("the draft of the entry holds what was done, and is forgotten when the entry is kept", async () => {
  const { context, page, trouble } = await open(browser, phone);
  await page.clock.install({ time: new Date(2026, 10, 25, 9, 0) });
  await page.goto(fileUrl(OIL));
  // Stands for the part that makes the entry.
  await page.evaluate(() => window.garboard.part("record", () => ({ open: (draft) => { window.draft = draft; } })));
  await page.locator(".head .work").click();
  await press(page, "First step");
  await page.clock.runFor(5 * 60000);
  await press(page, "Done");
  // Two hours away count as what the step takes: 15 min.
  await page.clock.runFor(120 * 60000);
  await press(page, "Done");
  await page.clock.runFor(3 * 60000);
  await press(page, "Done");
  await page.evaluate(() => { location.hash = "s-run-and-look--3"; });
  const field = page.locator("#s-run-and-look--3 .taken input");
  await field.fill("6,2");
  assert.match(await page.locator("#s-run-and-look--3 .taken strong").innerText(), /Outside the limits 2\.5/);
  await field.fill("3,8");
  assert.equal(await page.locator("#s-run-and-look--3 .taken strong").innerText(), "");
  await field.fill("much");
  assert.match(await page.locator("#s-run-and-look--3 .taken strong").innerText(), /not a figure/);
  await field.fill("3,8");
  await press(page, "Finding");
  await page.getByLabel("What did you see?").fill('Weep at "cover" <b>&amp; هنا 🛠');
  await page.getByLabel("to be put right").check();
  await press(page, "Note it");
  await press(page, "Break off");
  assert.match(await page.locator("#_panel .warned").innerText(), /no safe stop/);
  assert.match(await page.getByLabel("How the boat is left").inputValue(), /^start key: /);
  await page.getByLabel("How the boat is left").fill("start key out\n\n no oil in the engine ");
  await press(page, "Break off and make the entry");
  const draft = await page.evaluate(() => window.draft);
  assert.equal(draft.kind, "work");
  assert.deepEqual(draft.jobs, ["oil-and-filter"]);
  assert.equal(draft.begun, "2026-11-25T09:00");
  assert.equal(draft.finished, false);
  assert.equal(draft.reached, "Warm up");
  assert.deepEqual(draft.left, ["start key out", "no oil in the engine"]);
  assert.equal(draft.minutes, 23); // 5 + 15 + 3
  assert.deepEqual(draft.readings, { "oil-pressure": "3.8 bar" });
  assert.deepEqual(draft.findings, [{ what: 'Weep at "cover" <b>&amp; هنا 🛠', grade: "act", step: "s-run-and-look--3" }]);
  // Broken off: the ticks wait for the next sitting; readings and findings are in the entry.
  await page.evaluate(() => window.garboard.clearWork("oil-and-filter", null));
  const waiting = await stored(page, WORK);
  assert.equal(Object.keys(waiting.ticks).length, 3);
  assert.deepEqual([waiting.readings, waiting.findings, waiting.paused], [{}, [], true]);
  await page.locator(".head .work").click();
  await press(page, "Whole list");
  for (const box of await page.locator(".tick input").all()) await box.check();
  await press(page, "To the end");
  await press(page, "Finish and make the entry");
  // How she was left in words of one's own stands until somebody says that it is back.
  await page.getByRole("button", { name: "Opened, on or fitted again" }).first().click();
  await page.getByRole("button", { name: "Opened, on or fitted again" }).click();
  const last = await page.evaluate(() => window.draft);
  assert.deepEqual([last.finished, last.reached, last.left, last.except], [true, null, [], []]);
  await page.evaluate(() => window.garboard.clearWork("oil-and-filter", null));
  assert.equal(await stored(page, WORK), null);
  assert.deepEqual(trouble, []);
  await context.close();
});

test("timers count through a reload, alternate, and stand on every page", async () => {
  const { context, page, trouble } = await open(browser, phone);
  await page.clock.install({ time: new Date(2026, 10, 25, 9, 0) });
  await begin(page);
  await page.evaluate(() => { location.hash = "s-drain--2"; });
  const step = page.locator("#s-drain--2 .timing");
  await step.getByRole("button").click();
  // 6.5 L at 0.4 L/min are 16 min 15 s: 10 min on, 10 min off, 6 min 15 s on.
  assert.match(await step.innerText(), /10:00 to run, then rest 10:00/);
  await page.clock.runFor(4 * 60000);
  assert.match(await step.innerText(), /6:00 to run/);
  const meanwhile = page.locator("#_dock .meanwhile");
  assert.equal(await meanwhile.isVisible(), false);
  await page.clock.runFor(7 * 60000);
  assert.match(await step.innerText(), /9:00 to rest/);
  assert.match(await meanwhile.innerText(), /While Drain 2 rests: Change the filter/);
  // It stays while the reader is elsewhere, and leads there; there it is of no more use.
  await press(page, "Next");
  assert.equal(await now(page), "s-drain--3");
  await meanwhile.getByRole("link").click();
  assert.equal(await now(page), "s-change-the-filter--1");
  assert.equal(await meanwhile.isVisible(), false);
  await page.evaluate(() => { location.hash = "s-drain--2"; });
  assert.equal(await meanwhile.isVisible(), true);
  await page.reload();
  await page.clock.runFor(1000);
  await step.waitFor();
  assert.match(await step.innerText(), /8:5\d to rest/);
  await page.goto(fileUrl("index.html"));
  const bar = page.locator("#_timers");
  await bar.waitFor();
  await page.clock.runFor(10 * 60000);
  assert.match(await bar.innerText(), /Drain, 2[^]*[45]:\d\d to run/);
  await page.clock.runFor(10 * 60000);
  assert.match(await bar.innerText(), /Time is up/);
  await bar.getByRole("button").click();
  assert.equal(await bar.isVisible(), false);
  assert.equal(await stored(page, "garboard:skerrywake:timers"), null);
  assert.deepEqual(trouble, []);
  await context.close();
});

test("a clock that is set back neither shortens a timer nor makes it absurd", async () => {
  const { context, page } = await open(browser, phone);
  await page.clock.install({ time: new Date(2026, 10, 25, 9, 0) });
  await begin(page);
  await page.evaluate(() => { location.hash = "s-warm-up--4"; });
  const step = page.locator("#s-warm-up--4 .timing");
  await step.getByRole("button").click();
  await page.clock.runFor(4 * 60000);
  await page.clock.setSystemTime(new Date(2020, 0, 1));
  await page.clock.runFor(2000);
  assert.match(await step.innerText(), /5:5\d to wait|6:00 to wait/);
  await page.clock.runFor(6 * 60000);
  assert.match(await step.innerText(), /Time is up/);
  await context.close();
});

test("two pages of one guide lose no ticks", async () => {
  const { context, page: first } = await open(browser, phone);
  await begin(first);
  await press(first, "First step");
  const second = await context.newPage();
  await second.goto(fileUrl(OIL));
  await second.locator("#_dock").waitFor();
  await press(second, "Whole list");
  await press(first, "Done");
  await second.locator("#s-drain--1 .tick input").check();
  await second.locator("#s-warm-up--1 .tick input:checked").waitFor();
  await first.locator("#s-drain--1.done").waitFor({ state: "attached" });
  await press(first, "Done");
  // The later word counts, whichever page it is said on.
  await second.locator("#s-warm-up--2 .tick input:checked").waitFor();
  await second.locator("#s-warm-up--1 .tick input").uncheck();
  await first.locator("#s-warm-up--1:not(.done)").waitFor({ state: "attached" });
  assert.deepEqual(Object.keys((await stored(first, WORK)).ticks).sort(), ["s-drain--1", "s-warm-up--2"]);
  await context.close();
});

test("a revised sheet says so and keeps the ticks of steps that read as they did", async () => {
  const guide = (second) => `---\ntitle: A job\n---\n## One\n1. Shut the valve.\n2. ${second}\n3. Open the cover.\n`;
  const address = small("revised", guide("Drain it."));
  const { context, page } = await free();
  await begin(page, address);
  await press(page, "First step");
  for (let step = 0; step < 3; step += 1) await press(page, "Done");
  small("revised", guide("Drain it into a can.\n3. Look at what came out."));
  await page.goto(address.split("#")[0]);
  await page.locator("#_panel").waitFor();
  const told = await page.locator("#_panel").innerText();
  assert.match(told, /The sheet has changed/);
  assert.match(told, /2 ticks are kept/);
  await press(page, "Go on working");
  await page.evaluate(() => document.querySelectorAll(".small button").forEach((one) => one.textContent === "Whole list" && one.click()));
  // Step 3 was "Open the cover.", which is step 4 now.
  assert.deepEqual(await page.locator(".tick input:checked").evaluateAll((all) => all.map((box) => box.value)), ["s-one--1", "s-one--4"]);
  await context.close();
});

for (const [name, spoil] of [
  ["forbidden", () => Object.defineProperty(window, "localStorage", { get() { throw new DOMException("no", "SecurityError"); } })],
  ["full", () => { Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }; }],
]) {
  test(`with storage ${name} the page works and says that it forgets`, async () => {
    const { context, page, trouble } = await open(browser, phone);
    await page.addInitScript(spoil);
    await begin(page);
    await press(page, "First step");
    await press(page, "Done");
    assert.equal(await now(page), "s-warm-up--2");
    assert.match(await page.locator("#_dock").innerText(), /This browser keeps nothing/);
    await page.evaluate(() => { location.hash = "s-warm-up--4"; });
    await page.locator("#s-warm-up--4 .timing button").click();
    assert.match(await page.locator("#_timers").innerText(), /to wait/);
    assert.deepEqual(trouble, []);
    await context.close();
  });
}

test("whatever stands in storage, the page works", async () => {
  const rubbish = [
    "", "x", "null", "[]", "7", '"a"', "{", '{"v":1}', '{"v":2,"guide":"oil-and-filter"}',
    '{"v":1,"guide":"oil-and-filter","at":[],"ticks":[1],"texts":7,"off":null,"readings":"x","findings":{"a":1},"notes":5,"begun":9}',
    '{"v":1,"guide":"oil-and-filter","revision":null,"at":"__proto__","mode":{},"ticks":{"__proto__":5,"s-drain--1":"x","s-drain--2":1e999,"nowhere":3},"texts":{"__proto__":1},"readings":{"oil-pressure":{"__proto__":"x"},"__proto__":{"a":"b"}},"stamps":{"reading\\noil-pressure":1e15},"findings":[null,7,{"what":"<img src=x onerror=alert(1)>","on":4},{"what":8,"on":1}]}',
  ];
  const timers = ["x", "{}", "[null]", '[{"id":"a","name":"b","guide":"c","step":"d","cycle":[0,0,0],"start":1,"seen":1}]', '[{"id":"a","name":"<b>","guide":"../../x","step":"\\"","kind":"wait","cycle":[9,9,0],"start":9e15,"seen":9e15}]'];
  for (const [at, text] of rubbish.entries()) {
    const { context, page, trouble } = await open(browser, phone);
    await page.addInitScript(([work, timer]) => {
      if (sessionStorage.getItem("set")) return;
      sessionStorage.setItem("set", "yes");
      localStorage.setItem("garboard:skerrywake:work:oil-and-filter", work);
      localStorage.setItem("garboard:skerrywake:light", work);
      localStorage.setItem("garboard:skerrywake:timers", timer);
    }, [text, timers[at % timers.length]]);
    await page.goto(fileUrl(OIL));
    await page.waitForTimeout(150);
    if (!(await page.locator("#_dock").isVisible())) await page.locator(".head .work").click();
    await page.locator("#_dock").waitFor();
    if (await page.getByRole("button", { name: "Go on working" }).isVisible()) await press(page, "Go on working");
    await page.locator("#_dock .large button").last().click();
    assert.equal(await page.locator(".step:visible").count(), 1, text);
    assert.deepEqual(trouble, [], text);
    assert.equal(await page.evaluate(() => ({}).a), undefined);
    await context.close();
  }
});

test("a guide of 300 steps, and one of none", async () => {
  const many = Array.from({ length: 300 }, (_, at) => `${at + 1}. Turn screw ${at + 1}. {takes 1 min}`).join("\n");
  const { context, page, trouble } = await free();
  await begin(page, small("many", `---\ntitle: Many\n---\n## All\n${many}\n`));
  await press(page, "First step");
  const began = Date.now();
  for (let step = 0; step < 20; step += 1) await press(page, "Done");
  assert.ok(Date.now() - began < 8000, `${Date.now() - began} ms for 20 steps`);
  assert.match(await page.locator("#_where").innerText(), /Step 21 of 300/);
  await page.goto(small("none", "---\ntitle: None\n---\nNothing yet.\n"));
  assert.equal(await page.locator(".work:visible").count(), 0);
  assert.deepEqual(trouble, []);
  await context.close();
});

test("names with quotes, brackets, foreign scripts and pictures are text everywhere", async () => {
  const point = `<i>"Röhre"</i> & 'שסתום' 🚿`;
  const name = `"Röhre" 3 < 5 & 'שסתום' 🚿`;
  const { context, page, trouble } = await free();
  await page.addInitScript(() => addEventListener("DOMContentLoaded", () => window.garboard && window.garboard.part("record", () => ({ open: (draft) => { window.draft = draft; } }))));
  await begin(page, small("names", `---\ntitle: A job\nreadings: {flow: {unit: L, limits: 1..2, at: ['${point.replace(/'/g, "''")}', __proto__]}}\n---\n## <b>Stage</b> "one" שלב {isolate the <pump}\n1. Shut it. {isolate ${name}}\n2. Read it. {read flow} {wait 2 min: ${name}}\n3. Open it. {restore ${name}} {restore the <pump}\n`));
  await press(page, "First step");
  await press(page, "Done");
  assert.equal(await page.locator("#_dock .shut").innerText(), `Still shut, off or apart: the <pump · ${name}`);
  assert.match(await page.locator(".taken").innerText(), /<i>"Röhre"<\/i>/);
  await page.locator(".taken input").first().fill("5");
  await page.locator(".taken input").last().fill("1,5");
  assert.match(await page.locator(".taken").innerText(), /Outside the limits 1 to 2 L/);
  await page.locator(".timing button").click();
  assert.ok((await page.locator("#_timers").innerText()).includes(name));
  await press(page, "Break off");
  assert.ok((await page.getByLabel("How the boat is left").inputValue()).includes(name));
  await press(page, "Go on working");
  await page.reload();
  await page.locator("#_dock").waitFor();
  await press(page, "Done");
  await press(page, "Done");
  assert.equal(await page.locator("#_dock .shut").isVisible(), false);
  await press(page, "Finish and make the entry");
  const readings = await page.evaluate(() => JSON.stringify(window.draft.readings));
  assert.equal(readings, JSON.stringify({ flow: { [point]: "5 L", ["__proto__"]: "1.5 L" } }));
  assert.deepEqual(trouble, []);
  await context.close();
});

test("a guide for several asks which one first", async () => {
  const { context, page, trouble } = await open(browser, phone);
  await page.goto(fileUrl("guides/seacocks.html"));
  await page.locator(".head .work").click();
  assert.match(await page.locator("#_panel h2").innerText(), /Which one/);
  assert.deepEqual(await axe(page), []);
  await press(page, "Seacock, heads intake");
  await press(page, "First step");
  await press(page, "Done");
  assert.equal((await stored(page, "garboard:skerrywake:work:seacocks/seacock-heads-intake")).gear, "seacock-heads-intake");
  await page.reload();
  await page.locator("#_dock").waitFor();
  assert.match(await page.locator("#_where").innerText(), /Step 2/);
  assert.deepEqual(trouble, []);
  await context.close();
});

test("keyboard only", async () => {
  const { context, page } = await open(browser, { viewport: { width: 1024, height: 768 } });
  await page.goto(fileUrl(OIL));
  await page.locator(".head .work").focus();
  await page.keyboard.press("Enter");
  await page.locator("#_dock").waitFor();
  await page.keyboard.press("ArrowRight");
  assert.equal(await now(page), "s-warm-up--1");
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowLeft");
  assert.equal(await now(page), "s-warm-up--1");
  // From where the focus is to "Done" by Tab alone.
  for (let tries = 0; tries < 60; tries += 1) {
    if ((await page.evaluate(() => document.activeElement.textContent)) === "Done") break;
    await page.keyboard.press("Tab");
  }
  await page.keyboard.press("Enter");
  assert.equal(await now(page), "s-warm-up--2");
  assert.equal(await page.evaluate(() => document.activeElement.textContent), "Done", "the focus stays where the finger is");
  assert.match(await page.locator("#_dock + [role=status]").innerText(), /Step 2 of 21\. Warm up\..*carbon monoxide/);
  await context.close();
});

test("no view is wider than 320 px, its buttons are 44 px high, and axe finds nothing", async () => {
  for (const light of ["day", "night"]) {
    for (const width of [320, 360]) {
      const { context, page } = await open(browser, { ...phone, viewport: { width, height: 740 } });
      await page.addInitScript((chosen) => localStorage.setItem("garboard:skerrywake:light", chosen), light);
      await begin(page);
      const look = async (view) => {
        const where = `${view}, ${light}, ${width} px`;
        assert.deepEqual(await axe(page), [], where);
        assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= width, where);
        const low = await page.$$eval("#_dock button, #_panel button, #_panel input, .timing button, .taken input", (all) =>
          all.filter((one) => one.checkVisibility() && !(one.closest("label")?.offsetHeight >= 44) && one.getBoundingClientRect().height < 43.5).map((one) => one.textContent));
        assert.deepEqual(low, [], where);
      };
      await look("before");
      await press(page, "First step");
      for (let step = 0; step < 3; step += 1) await press(page, "Done");
      await page.locator(".timing button:visible").click();
      await look("step");
      await press(page, "Finding");
      await look("finding");
      await press(page, "Cancel");
      await page.getByRole("button", { name: /^Break off/ }).click();
      await look("break off");
      await press(page, "Go on working");
      await page.evaluate(() => { location.hash = "s-run-and-look--3"; });
      await page.locator(".taken input:visible").fill("9");
      await look("reading");
      await press(page, "Whole list");
      await look("whole");
      await press(page, "To the end");
      await look("end");
      await context.close();
    }
  }
});

test("the first frame is dark at night, and the light lies under the thumb", async () => {
  const { context, page } = await open(browser, phone);
  await page.addInitScript(() => localStorage.setItem("garboard:skerrywake:light", "night"));
  await page.goto(fileUrl(OIL), { waitUntil: "commit" });
  await page.waitForSelector("body");
  assert.equal(await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor), "rgb(0, 0, 0)");
  assert.equal(await page.evaluate(() => getComputedStyle(document.documentElement).colorScheme), "dark");
  const box = await page.locator("#_light").boundingBox();
  assert.ok(box.y > 740 * 0.8, `at ${box.y}`);
  await begin(page);
  assert.ok((await page.locator("#_light").boundingBox()).y > 740 * 0.8);
  await context.close();
});

test("on paper the whole sheet stands, whatever is on the screen", async () => {
  const { context, page } = await open(browser, phone);
  await page.goto(fileUrl(OIL));
  await page.emulateMedia({ media: "print" });
  const whole = await page.locator("main").innerText();
  await page.emulateMedia({ media: "screen" });
  await page.locator(".head .work").click();
  await press(page, "First step");
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator("main").innerText(), whole);
  await context.close();
});

test("a clock before the day of publication is called wrong, and no days are counted", async () => {
  const { context, page } = await open(browser, phone);
  const printed = await (async () => {
    const { context: plain, page: still } = await open(browser, { javaScriptEnabled: false });
    await still.goto(fileUrl(OIL));
    const text = await still.locator("[data-due]").first().textContent();
    await plain.close();
    return text;
  })();
  await page.clock.install({ time: new Date(2026, 10, 22, 9, 0) });
  await page.goto(fileUrl(OIL));
  assert.match(await page.locator("main > p").first().innerText(), /clock of this device is wrong/);
  assert.equal(await page.locator("[data-due]").first().textContent(), printed);
  await context.close();
});

test("the first view stays light", () => {
  const weigh = (path) => statSync(join(site, path)).size;
  assert.ok(weigh("assets/script.js") <= 7 * 1024, `${weigh("assets/script.js")}`);
  for (const part of ["deck", "work", "ask", "marks", "timers"]) assert.ok(weigh(`assets/${part}.js`) <= 16 * 1024, part);
});
