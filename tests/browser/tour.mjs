// Makes the pictures of the README anew, of a site published --on 2026-11-24: GARBOARD_SITE=… node tour.mjs
import { mkdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { fileUrl, launch, open } from "./site.mjs";

const to = fileURLToPath(new URL("./tour/", import.meta.url));
mkdirSync(to, { recursive: true });
// The pages count days from the reader's clock: any other would make other pictures.
const today = new Date("2026-11-24T11:35Z");

const shots = [
  { name: "state", page: "index.html", width: 1180, height: 1000, light: "day" },
  { name: "guide", page: "guides/oil-and-filter.html", width: 1180, height: 800, light: "day" },
  { name: "steps-phone", page: "guides/oil-and-filter.html", width: 360, height: 720, light: "day", at: "#s-drain" },
  { name: "steps-red", page: "guides/oil-and-filter.html", width: 360, height: 720, light: "night", at: "#s-drain" },
  { name: "passage", page: "passages/southern-crossing.html", width: 1180, height: 820, light: "day", at: "#_before" },
  { name: "provisions", page: "provisions/passage-outer-skarrs.html", width: 1180, height: 760, light: "day" },
  { name: "meters", page: "meters.html", width: 390, height: 800, light: "day" },
  { name: "plan", page: "guides/oil-and-filter.html", width: 390, height: 800, light: "day", at: "#plan" },
  { name: "working", page: "guides/oil-and-filter.html", width: 390, height: 800, light: "day", act: work },
  { name: "record", page: "guides/oil-and-filter.html", width: 390, height: 800, light: "night", act: record },
  { name: "log", page: "log/2026.html", width: 1180, height: 760, light: "day" },
];

/** A few steps into the job, one step at a time. */
async function work(page) {
  await page.click(".work");
  await page.getByRole("button", { name: "First step" }).click();
  for (let steps = 0; steps < 5; steps += 1) await page.keyboard.press("ArrowRight");
  await page.waitForSelector("html.working, .dock, #_dock", { timeout: 5000 }).catch(() => {});
  await page.waitForTimeout(300);
}

/** Broken off, with the form of the entry open. */
async function record(page) {
  await page.evaluate(() => garboard.need("record", (made) => made.open({
    kind: "work", jobs: ["oil-and-filter"], guide: "oil-and-filter", title: document.querySelector("h1").textContent,
    begun: "2026-11-24T09:30", finished: true, reached: null, left: [], minutes: 125, readings: { "oil-pressure": "3.4 bar" },
    findings: [], notes: "",
  })));
  await page.waitForTimeout(600);
}

const browser = await launch();
for (const { name, page: path, width, height, light, at, act } of shots) {
  const { context, page } = await open(browser, { viewport: { width, height }, deviceScaleFactor: 1 });
  await page.clock.setFixedTime(today);
  await page.goto(fileUrl(path));
  if (light === "night") await page.click("#_light");
  if (at) await page.evaluate((anchor) => document.querySelector(anchor).scrollIntoView({ behavior: "instant" }), at);
  if (act) await act(page);
  await page.waitForTimeout(400);
  await page.screenshot({ path: `${to}${name}.png` });
  await context.close();
}
const { context, page } = await open(browser, { viewport: { width: 794, height: 1123 } });
await page.clock.setFixedTime(today);
await page.goto(fileUrl("guides/oil-and-filter.html"));
await page.emulateMedia({ media: "print" });
await page.screenshot({ path: `${to}paper.png`, clip: { x: 0, y: 0, width: 794, height: 948 } });
await page.goto(fileUrl("record.html"));
await page.screenshot({ path: `${to}boats-record.png`, clip: { x: 0, y: 0, width: 794, height: 948 } });
await context.close();
await browser.close();
