// Every page is valid HTML, by html-validate's standard and accessibility presets.
import { test } from "node:test";
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { HtmlValidate } from "html-validate";
import { pages, site } from "./site.mjs";

const rules = {
  root: true,
  extends: ["html-validate:standard", "html-validate:a11y"],
  rules: {
    // How the source looks, not what it says.
    "no-trailing-whitespace": "off",
    "void-style": "off",
    "doctype-style": "off",
    "attribute-boolean-style": "off",
    "attribute-empty-style": "off",
    // Titles name the page and the boat; a long name of either is no fault of the page.
    "long-title": "off",
    // Ids are made from names of files, which may begin with a digit.
    "valid-id": ["error", { relaxed: true }],
    // Regions that scroll must be reachable with the keyboard.
    "no-redundant-role": "error",
  },
};
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
