// Every page is valid HTML, by html-validate's standard and accessibility presets.
import { test } from "node:test";
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { HtmlValidate } from "html-validate";
import { pages, site } from "./site.mjs";
import { rules } from "./valid.mjs";

const validate = new HtmlValidate(rules);

test("there are pages to look at", () => {
  assert.ok(pages.length > 40, `only ${pages.length} pages`);
});

/* Before its scripts run, the pocket file has all guides one behind the other, each with its own landmarks. */
const carried = new HtmlValidate({ ...rules, rules: { ...rules.rules, "unique-landmark": "off" } });

for (const page of pages) {
  test(`valid: ${page}`, async () => {
    const report = await (page === "pocket.html" ? carried : validate).validateString(readFileSync(join(site, page), "utf8"), page);
    const said = report.results.flatMap((result) => result.messages.map((m) => `${m.line}:${m.column} ${m.ruleId}: ${m.message}`));
    assert.deepEqual(said, []);
  });
}
