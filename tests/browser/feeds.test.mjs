// The calendar of dates as another project's parser reads it, and the links that lead to it and to the feed.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import ICAL from "ical.js";
import { fileUrl, files, launch, open, site } from "./site.mjs";

let browser;
before(async () => (browser = await launch()));
after(() => browser.close());

test("the calendar reads, and each date in it is whole days with one name", () => {
  const text = readFileSync(join(site, "dates.ics"), "utf8");
  for (const line of text.split("\r\n")) assert.ok(Buffer.byteLength(line) <= 75, line);
  assert.ok(!/[^\r]\n|\r[^\n]/.test(text), "every line ends with CR LF");
  const calendar = new ICAL.Component(ICAL.parse(text));
  assert.equal(calendar.getFirstPropertyValue("version"), "2.0");
  const events = calendar.getAllSubcomponents("vevent").map((event) => new ICAL.Event(event));
  assert.ok(events.length > 40, `only ${events.length} dates`);
  assert.equal(new Set(events.map((event) => event.uid)).size, events.length);
  for (const event of events) {
    assert.ok(event.summary, event.uid);
    assert.ok(event.startDate.isDate && event.endDate.isDate, event.uid);
    assert.ok(event.endDate.compare(event.startDate) > 0, event.uid);
    assert.equal(event.component.getFirstPropertyValue("dtstamp").toString(), "2026-11-24T00:00:00Z");
  }
});

for (const width of [360, 1280]) {
  test(`calendar and feed can be reached at ${width} px`, async () => {
    const { context, page, trouble } = await open(browser, { viewport: { width, height: 740 } });
    for (const [from, to] of [["index.html", "dates.ics"], ["index.html", "log.atom"], ["log.html", "log.atom"]]) {
      await page.goto(fileUrl(from));
      const link = page.locator(`main a[href="${to}"]`);
      assert.equal(await link.count(), 1, `${from} to ${to}`);
      const box = await link.boundingBox();
      assert.ok(box.height >= 36 && box.x >= 0 && box.x + box.width <= width, `${from} to ${to}: ${JSON.stringify(box)}`);
      assert.ok(files.includes(to));
    }
    assert.deepEqual(trouble, []);
    await context.close();
  });
}

test("the feed is well-formed and its links lead into the site", async () => {
  const { context, page } = await open(browser);
  await page.goto(fileUrl("log.html"));
  const text = readFileSync(join(site, "log.atom"), "utf8");
  const read = await page.evaluate((text) => {
    const feed = new DOMParser().parseFromString(text, "application/xml");
    const links = [...feed.querySelectorAll("entry > link")].map((link) => link.getAttribute("href"));
    const ids = [...feed.querySelectorAll("entry > id")].map((id) => id.textContent);
    return { error: feed.querySelector("parsererror")?.textContent, links, ids, own: feed.querySelector("feed > link[rel=self]").getAttribute("href") };
  }, text);
  assert.equal(read.error, undefined);
  assert.equal(read.ids.length, 50);
  assert.equal(new Set(read.ids).size, 50);
  const top = read.own.replace(/log\.atom$/, "");
  for (const link of read.links) {
    assert.ok(link.startsWith(top), link);
    const [path, fragment] = link.slice(top.length).split("#");
    assert.ok(readFileSync(join(site, path), "utf8").includes(`id="${fragment}"`), link);
  }
  await context.close();
});
