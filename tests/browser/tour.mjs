// Makes the pictures of the README anew: GARBOARD_SITE=… node tour.mjs
import { mkdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { fileUrl, launch, open, setLight } from "./site.mjs";

const to = fileURLToPath(new URL("./tour/", import.meta.url));
mkdirSync(to, { recursive: true });

const shots = [
  { name: "state", page: "index.html", width: 1180, height: 760, light: "day" },
  { name: "guide", page: "guides/oil-and-filter.html", width: 1180, height: 800, light: "day" },
  { name: "steps-phone", page: "guides/oil-and-filter.html", width: 360, height: 720, light: "day", at: "#s-drain" },
  { name: "steps-red", page: "guides/oil-and-filter.html", width: 360, height: 720, light: "night", at: "#s-drain" },
  { name: "log", page: "log/2026.html", width: 1180, height: 760, light: "day" },
];

const browser = await launch();
for (const { name, page: path, width, height, light, at } of shots) {
  const { context, page } = await open(browser, { viewport: { width, height }, deviceScaleFactor: 1 });
  await setLight(context, light);
  await page.goto(fileUrl(path) + (at ?? ""));
  if (at) await page.evaluate((anchor) => document.querySelector(anchor).scrollIntoView({ behavior: "instant" }), at);
  await page.waitForTimeout(400);
  await page.screenshot({ path: `${to}${name}.png` });
  await context.close();
}
const { context, page } = await open(browser, { viewport: { width: 794, height: 1123 } });
await page.goto(fileUrl("guides/oil-and-filter.html"));
await page.emulateMedia({ media: "print" });
await page.screenshot({ path: `${to}paper.png`, clip: { x: 0, y: 0, width: 794, height: 1000 } });
await context.close();
await browser.close();
