// While the book is being written (`garboard tend`): a page loads itself anew at a save and keeps its place,
// an error stands in a bar over the old page, and the bar goes when the book is mended.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { axeSource, program, project } from "./phone.mjs";
import { launch } from "./site.mjs";

const GUIDE = "content/guides/engine/oil-and-filter.md";
const TITLE = "Change the engine oil and filter";
const pictures = process.env.GARBOARD_PICTURES;
let browser;
before(async () => { browser = await launch(); });
after(() => browser.close());

/** A copy of the demo book that is tended; `save` writes the guide as editors do: beside it, then in its place. */
async function tended() {
  const book = mkdtempSync(join(tmpdir(), "garboard-tended-"));
  cpSync(join(project, "content"), join(book, "content"), { recursive: true });
  const child = spawn(program, ["tend", "--on", "2026-11-24", "--port", "0"], { cwd: book, stdio: ["ignore", "pipe", "ignore"] });
  const address = await new Promise((told, failed) => {
    let printed = "";
    child.stdout.on("data", (bytes) => {
      printed += bytes;
      if (printed.includes("\n")) told(printed.split("\n")[0]);
    });
    child.on("exit", () => failed(new Error("it ended")));
  });
  const guide = join(book, GUIDE);
  const sound = readFileSync(guide, "utf8");
  const save = (text) => {
    writeFileSync(`${guide}.new`, text);
    renameSync(`${guide}.new`, guide);
  };
  const ended = new Promise((told) => { child.once("exit", told); });
  const stop = () => { child.kill("SIGTERM"); return ended; };
  return { address, sound, save, stop, gone: async () => { await stop(); rmSync(book, { recursive: true }); } };
}

for (const [width, height] of [[390, 800], [1280, 800]]) {
  test(`a page follows the book, ${width} px wide`, async () => {
    const { address, sound, save, stop, gone } = await tended();
    const context = await browser.newContext({ viewport: { width, height } });
    const page = await context.newPage();
    const errors = [];
    page.on("pageerror", (error) => errors.push(error.message));
    try {
      await page.goto(`${address}guides/oil-and-filter.html`);
      const step = page.locator("main li[id]").nth(3);
      const top = () => step.evaluate((one) => one.getBoundingClientRect().top);
      await step.evaluate((one) => scrollTo({ top: scrollY + one.getBoundingClientRect().top + 5, behavior: "instant" }));
      const place = await top();
      assert.ok((await page.evaluate(() => scrollY)) > height, "the step stands further down than one screen");

      // A title of so many words takes more lines, and yet the step stays where it was.
      const longer = `${TITLE}, ${"and say so in many more words ".repeat(12)}`.trim();
      save(sound.replace(TITLE, longer));
      await page.waitForFunction((words) => document.querySelector("h1").textContent.includes(words), "in many more words");
      await page.waitForLoadState("load");
      await page.waitForTimeout(300);
      assert.ok(Math.abs((await top()) - place) <= 2, `${await top()} and not ${place}`);

      save(sound.replace(`title: ${TITLE}`, "titel: Lost"));
      const bar = page.locator("#_tend");
      await bar.waitFor();
      const told = await bar.innerText();
      assert.match(told, /guides\/engine\/oil-and-filter\.md:\d+:\d+/);
      assert.match(told, /titel/);
      assert.match(await page.textContent("h1"), /in many more words/, "the old page stays");
      const box = await bar.boundingBox();
      assert.ok(box.y >= 0 && box.y < 1 && box.height <= height / 2, `the bar is in sight and leaves half the screen: ${JSON.stringify(box)}`);
      assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), "nothing runs over the side");
      for (const light of ["day", "night"]) {
        await page.evaluate((chosen) => { document.documentElement.dataset.light = chosen; }, light);
        if (pictures) await page.screenshot({ path: join(pictures, `tend-${width}-${light}.png`) });
        await page.evaluate(axeSource);
        const found = await page.evaluate(() => globalThis.axe.run("#_tend", { runOnly: ["wcag2a", "wcag2aa"] }));
        assert.deepEqual(found.violations.map((one) => one.id), [], light);
      }
      await page.evaluate(() => { document.documentElement.dataset.light = "day"; });

      save(sound);
      await bar.waitFor({ state: "detached" });
      await page.waitForFunction((title) => document.querySelector("h1").textContent.trim() === title, TITLE);

      await stop();
      await bar.waitFor();
      assert.match(await bar.innerText(), /no longer follows the book/);
      assert.deepEqual(errors, []);
    } finally {
      await context.close();
      await gone();
    }
  });
}
