// The clock of the device: changes to and from summer time, zones that skip a day or move by half an hour, clocks set
// wrong by years. What is expected is reckoned here from the zone's own calendar (Intl, IANA time zone database).
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { fileUrl, launch, open, site } from "./site.mjs";

const OIL = "guides/oil-and-filter.html";
const HOUR = 3600e3;
const DAY = 24 * HOUR;
let browser, folder;

before(async () => {
  browser = await launch();
  folder = mkdtempSync(join(tmpdir(), "garboard-clock-"));
});
after(async () => {
  await browser.close();
  rmSync(folder, { recursive: true });
});

// Moments at which clocks are changed, in UTC: IANA time zone database 2025b.
const CHANGES = [
  ["Europe/Berlin", "2027-03-28T01:00Z", "2027-10-31T01:00Z"],
  ["America/New_York", "2027-03-14T07:00Z", "2027-11-07T06:00Z"],
  ["Australia/Lord_Howe", "2027-04-03T15:00Z", "2027-10-02T15:30Z"],
  // At midnight: that day has no hour 0.
  ["Africa/Cairo", "2027-04-29T22:00Z", "2027-10-28T21:00Z"],
];

const dayIn = (zone, moment) => new Intl.DateTimeFormat("en-CA", { timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit" }).format(moment);
const number = (iso) => Date.parse(iso + "T00:00:00Z") / DAY;
const said = (count) => (count === 0 ? "today" : count > 0 ? `in ${count} day${count === 1 ? "" : "s"}` : `${-count} day${count === -1 ? "" : "s"} ago`);

/** Every count of the page at a moment, against the day that the zone's calendar has then. */
async function counts(page, zone, moment) {
  await page.clock.setFixedTime(moment);
  await page.reload();
  const today = number(dayIn(zone, moment));
  const places = await page.locator("[data-due]").evaluateAll((all) => all.map((one) => [one.dataset.due, one.firstChild.textContent]));
  assert.ok(places.length > 0);
  for (const [due, text] of places) assert.equal(text.replace(/ – $/, ""), said(number(due) - today), `${due} in ${zone} at ${moment.toISOString()}`);
}

for (const [zone, ...changes] of CHANGES) {
  test(`days to go are whole days of the calendar where clocks are changed: ${zone}`, async () => {
    const { context, page, trouble } = await open(browser, { timezoneId: zone });
    await page.clock.setFixedTime(new Date("2026-12-01T12:00Z"));
    await page.goto(fileUrl(OIL));
    for (const change of changes) {
      for (const hours of [-25, -24, -1, -0.02, 0, 0.02, 1, 23, 24]) await counts(page, zone, new Date(Date.parse(change) + hours * HOUR));
    }
    assert.deepEqual(trouble, []);
    await context.close();
  });
}

test("a day that a zone has skipped is a day between two others all the same", async () => {
  // Samoa went from 29 to 31 December 2011 (IANA time zone database, `Pacific/Apia`).
  cpSync(site, join(folder, "site"), { recursive: true });
  const path = join(folder, "site", OIL);
  const html = readFileSync(path, "utf8").replace(/data-published="[^"]*"/, 'data-published="2011-12-28"').replace(/data-due="[^"]*"/g, 'data-due="2012-01-01"');
  writeFileSync(path, html);
  const { context, page } = await open(browser, { timezoneId: "Pacific/Apia" });
  await page.clock.setFixedTime(new Date("2011-12-29T12:00Z"));
  await page.goto(pathToFileURL(path).href);
  // Midnight there was at 10:00 UTC.
  for (const [moment, days] of [["2011-12-29T20:00Z", 3], ["2011-12-30T09:59Z", 3], ["2011-12-30T10:00Z", 1], ["2011-12-31T10:01Z", 0]]) {
    await page.clock.setFixedTime(new Date(moment));
    await page.reload();
    assert.equal(await page.locator("[data-due]").first().textContent(), said(days), moment);
  }
  await context.close();
});

test("every day of the calendar can be written into a form, in every zone, and no other", async () => {
  for (const zone of ["UTC", "Pacific/Apia", "Africa/Cairo", "America/New_York", "Australia/Lord_Howe"]) {
    const { context, page } = await open(browser, { timezoneId: zone });
    await page.goto(fileUrl(OIL));
    const wrong = await page.evaluate(async () => {
      const entry = await new Promise((then, failed) => globalThis.garboard.need("entry", then, failed));
      const two = (n) => String(n).padStart(2, "0");
      const found = [];
      for (let year = 1900; year <= 2100; year++) {
        for (let month = 1; month <= 12; month++) {
          // The rule of the Gregorian calendar, by hand.
          const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
          const length = month === 2 ? (leap ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31;
          for (let day = 0; day <= 32; day++) {
            const text = `${year}-${two(month)}-${two(day)}`;
            if (entry.isDay(text) !== (day >= 1 && day <= length)) found.push(text);
          }
        }
      }
      return found;
    });
    assert.deepEqual(wrong, [], zone);
    await context.close();
  }
});

test("a timer runs through the change of the clocks by the time that goes by", async () => {
  for (const [zone, ...changes] of CHANGES.slice(0, 3)) {
    for (const change of changes) {
      const { context, page } = await open(browser, { timezoneId: zone });
      await page.clock.install({ time: new Date(Date.parse(change) - 5 * 60e3) });
      await page.goto(fileUrl(OIL));
      await page.locator(".head .work").click();
      await page.getByRole("button", { name: "First step", exact: true }).click();
      await page.evaluate(() => { location.hash = "s-warm-up--4"; });
      const step = page.locator("#s-warm-up--4 .timing");
      await step.getByRole("button").click();
      await page.clock.runFor(4 * 60e3);
      assert.match(await step.innerText(), /6:00 to wait|5:5\d to wait/, zone);
      await page.clock.runFor(3 * 60e3);
      assert.match(await step.innerText(), /3:00 to wait|2:5\d to wait/, `${zone}: past the change`);
      await page.clock.runFor(4 * 60e3);
      assert.match(await step.innerText(), /Time is up/, zone);
      await context.close();
    }
  }
});

test("a clock that is wrong by years says nothing absurd, and gives an entry no day", async () => {
  for (const [moment, behind] of [["1970-01-01T12:00", true], ["2019-06-01T12:00", true], ["2026-11-22T12:00", true], ["2026-11-24T12:00", false], ["2099-12-31T12:00", false]]) {
    const { context, page, trouble } = await open(browser);
    await page.clock.setFixedTime(new Date(moment));
    await page.goto(fileUrl("index.html"));
    assert.equal(await page.locator("main > p").filter({ hasText: "clock of this device is wrong" }).count(), behind ? 1 : 0, moment);
    const text = await page.locator("main").innerText();
    assert.doesNotMatch(text, /NaN|undefined|in -\d|-\d+ days?\b|Invalid/, moment);
    await page.getByRole("button", { name: "Note something" }).click();
    const day = page.locator("dialog.form input[type=date]").first();
    await day.waitFor();
    assert.equal(await day.inputValue(), behind ? "" : moment.slice(0, 10), moment);
    await page.locator("dialog.form").getByRole("button", { name: "Make the entry" }).click();
    if (behind) assert.match(await page.locator("dialog.form").innerText(), /Write a day/, moment);
    assert.deepEqual(trouble, []);
    await context.close();
  }
});

test("a phone that is a day behind across the date line still counts", async () => {
  const { context, page } = await open(browser, { timezoneId: "Pacific/Pago_Pago" });
  // Noon of 24 November in Tonga (UTC+13), where the pages were published, is noon of the 23rd here (UTC-11).
  const moment = new Date("2026-11-23T23:00Z");
  await page.clock.setFixedTime(moment);
  await page.goto(fileUrl(OIL));
  assert.equal(dayIn("Pacific/Pago_Pago", moment), "2026-11-23");
  await counts(page, "Pacific/Pago_Pago", moment);
  await context.close();
});
