// Guides of another boat made to run a script, to load something or to lead away: every payload in every
// text of a shared file, received where the program takes it, published, and opened with traps. Nothing may
// run, no request may leave the folder, nothing may open or go elsewhere.
//
// The payloads are of the publicly known families (from memory): event handlers, foreign schemes and their
// disguises, frames, forms, refresh, base, styles, markup that a parser mends into something else, Markdown
// links and images, templates, YAML. `T` is what tells that one ran.
import { test, before, after } from "node:test";
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";
import { program } from "./phone.mjs";

const T = "window.__ran=1";
const AWAY = "https://away.example/x";

const handlers = ["onload", "onerror", "onclick", "onmouseover", "onfocus", "onbegin", "ontoggle", "onstart", "onpageshow", "onanimationstart", "onpointerenter", "oncontentvisibilityautostatechange"];
const elements = ["img src=x", "svg", "body", "video src=x", "audio src=x", "input autofocus", "details open", "marquee", "object data=x", "select autofocus", "style", "math"];
const schemes = ["javascript:", "JaVaScRiPt:", " javascript:", "java\\tscript:", "java&#10;script:", "&#106;avascript:", "&#x6A;avascript:", "javascript&colon;", "\\x01javascript:", "vbscript:", "data:text/html,<script>", "data:text/html;base64,PHNjcmlwdD53aW5kb3cuX19yYW49MTwvc2NyaXB0Pg==", "data:image/svg+xml,<svg onload=", "view-source:javascript:", "feed:javascript:", "jar:javascript:", "livescript:", "mocha:", "file:///etc/passwd#"];

/** Every payload; most say `T`, the rest would ask for AWAY. */
const PAYLOADS = [
  `<script>${T}</script>`, `<SCRIPT>${T}</SCRIPT>`, `<script src=${AWAY}.js></script>`, `<scr<script>ipt>${T}</scr</script>ipt>`, `</script><script>${T}</script>`,
  `"><script>${T}</script>`, `'><script>${T}</script>`, `--><script>${T}</script>`, `]]><script>${T}</script>`, `</title><script>${T}</script>`,
  `</textarea><script>${T}</script>`, `</style><script>${T}</script>`, `</noscript><script>${T}</script>`, `<script type=module>${T}</script>`, `<script>/*</script><script>*/${T}</script>`,
  `\\u003cscript>${T}\\u003c/script>`, `%3Cscript%3E${T}%3C/script%3E`, `&lt;script&gt;${T}&lt;/script&gt;`, `+ADw-script+AD4-${T}+ADw-/script+AD4-`, `＜script＞${T}＜/script＞`,
  ...elements.flatMap((element, at) => [`<${element} ${handlers[at]}=${T}>`, `"><${element} ${handlers[(at + 1) % handlers.length]}="${T}" x="`]),
  ...handlers.flatMap((handler) => [`" ${handler}="${T}" x="`, `' ${handler}='${T}' x='`, `x ${handler}=${T} `, `<svg/${handler}=${T}>`, `<svg><animate ${handler}=${T} attributeName=x dur=1s>`]),
  ...schemes.flatMap((scheme) => [`[go](${scheme}${T})`, `[go](<${scheme}${T}>)`, `![go](${scheme}${T})`, `<a href="${scheme}${T}">go</a>`]),
  `[go][r]\n\n[r]: javascript:${T}`, `[go](x "\\" onmouseover=\\"${T}")`, `![a\\" onerror=\\"${T}](x.png)`, `<javascript:${T}>`, `[a](https://ok.example/"onmouseover="${T})`,
  `![x](${AWAY}.png)`, `![x](//away.example/x.png)`, "```html\"onmouseover=\"" + T + "\n<script>" + T + "</script>\n```", "```\" onclick=\"" + T + "\nx\n```", "`<img src=x onerror=" + T + ">`",
  `<iframe src="javascript:${T}"></iframe>`, `<iframe srcdoc="<script>parent.__ran=1</script>"></iframe>`, `<iframe src=${AWAY}></iframe>`, `<frameset onload=${T}>`, `<embed src="javascript:${T}">`,
  `<object data="data:text/html,<script>top.__ran=1</script>"></object>`, `<applet code=x>`, `<form action="javascript:${T}"><button>go</button></form>`, `<form action=${AWAY}><input type=submit autofocus>`, `<button formaction="javascript:${T}">go</button>`,
  `<isindex action=javascript:${T} type=submit>`, `<meta http-equiv=refresh content="0;url=${AWAY}">`, `<meta http-equiv="refresh" content="0;javascript:${T}">`, `<base href="${AWAY}/">`, `<link rel=stylesheet href=${AWAY}.css>`,
  `<link rel=prefetch href=${AWAY}>`, `<link rel=import href=${AWAY}>`, `<style>@import '${AWAY}.css';</style>`, `<style>*{background:url(${AWAY})}</style>`, `" style="background:url(${AWAY})" x="`,
  `<div style="width:expression(${T})">`, `<div style="behavior:url(${AWAY})">`, `<div style=-moz-binding:url(${AWAY})>`, `<table background=${AWAY}>`, `<video poster=${AWAY}>`, `<img srcset="${AWAY} 2x">`, `<picture><source srcset=${AWAY}><img></picture>`,
  `<math><mtext><table><mglyph><style><img src=x onerror=${T}>`, `<noscript><p title="</noscript><img src=x onerror=${T}>">`, `<svg><style><img src=x onerror=${T}></style>`, `<template><img src=x onerror=${T}></template>`, `<svg><foreignObject><body onload=${T}>`,
  `<svg><use href="data:image/svg+xml,<svg id=x onload=${T}>#x"/></svg>`, `<svg><a xlink:href="javascript:${T}"><text y=9>x</text></a>`, `<svg><set attributeName=onload to=${T}>`, `<svg><script>${T}</script>`, `<svg><image href=${AWAY}>`,
  `<math href="javascript:${T}">x</math>`, `<select><noembed></select><script>${T}</script>`, `<xmp></xmp><script>${T}</script>`, `<plaintext><script>${T}</script>`, `<table><td><svg><desc><td></desc></svg><img src=x onerror=${T}>`,
  `<!--><img src=x onerror=${T}>-->`, `<!--[if IE]><script>${T}</script><![endif]-->`, `<![CDATA[<img src=x onerror=${T}>]]>`, `<?xml-stylesheet href="javascript:${T}"?>`, `<!DOCTYPE x [<!ENTITY y "${T}">]>&y;`,
  `{{ 7 * 7 }}`, `{% include "frame.html" %}`, `{{ __tera_context }}`, `{% raw %}<script>${T}</script>{% endraw %}`, `\${${T}}`, `#{${T}}`, `<%= ${T} %>`, `{{constructor.constructor('${T}')()}}`, `{"__proto__":{"__ran":1}}`,
  `!!js/function 'function(){${T}}'`, `x\n---\n<script>${T}</script>`, `x: y\n  z: [`, `*alias`, `&anchor x`, `\u0000<script>${T}</script>`, `\u2028<script>${T}</script>`, `\u202e<script>${T}</script>`, `\\"};${T};//`, `';${T};//`, `*/${T}/*`, `</span></main></body></html><script>${T}</script>`,
  "x".repeat(5000) + `<img src=x onerror=${T}>`, `<a id=garboard href=x>`, `<form id=garboard name=part>`, `<img name=getElementById>`, `<a href=https://ok.example ping=${AWAY}>x</a>`, `<a target=_blank href=${AWAY}>x</a>`,
];

/** A text in double quotes of YAML: every sign stays what it is. */
const quoted = (text) => JSON.stringify(text);
const flat = (text) => text.replace(/\s+/g, " ");

/** Every text of the front matter at once: there all but a few characters are plain words. */
const FRONT = (p) => `title: ${quoted(p)}
summary: ${quoted(p)}
safety: [${quoted(p)}]
conditions: [${quoted(p)}]
wear: [${quoted(p)}]
dispose: [${quoted(p)}]
tools: [${quoted("tool " + p)}]
parts: [{item: ${quoted("part " + p)}}]
torque: [{at: ${quoted("at " + p)}, value: 35 N·m, source: ${quoted(p)}}]
values: {${quoted("value " + p)}: 5 L, fill: ${quoted("as " + p)}}
readings: {${quoted("reading " + p)}: {unit: bar, limits: 1..2, when: ${quoted(p)}, at: [${quoted(p)}]}}
licence: ${quoted(p)}
source: ${quoted(p)}
applies-to: ${quoted(p)}
every: {${quoted("meter " + p)}: 100 h, calendar: 1 year}
for: [${quoted(p)}]
occasions: [${quoted(p)}]
covers: [${quoted(p)}]
hazards: [${quoted(p)}]
`;
const FRONT_TEXTS = 22;
/** The texts of the Markdown, one by one: there much is refused. */
const BODY = {
  intro: (p) => `${p}\n\n## Work\n\n1. Do it.\n`, step: (p) => `## Work\n\n1. Do ${flat(p)} it.\n`, "stage heading": (p) => `## Work ${flat(p)}\n\n1. Do it.\n`,
  caution: (p) => `## Work\n\n1. Do it.\n\n   > WARNING: Mind ${flat(p)} well.\n`, "picture alt": (p) => `## Work\n\n1. Do it.\n\n   ![${flat(p)}](ID/p.png)\n`,
  "picture title": (p) => `## Work\n\n1. Do it.\n\n   ![x](ID/p.png "${flat(p)}")\n`, "link title": (p) => `## Work\n\n1. [Do](https://ok.example/ "${flat(p)}") it.\n`,
  "link target": (p) => `## Work\n\n1. [Do](<${flat(p)}>) it.\n`, "code fence": (p) => `\`\`\`${flat(p).replace(/`/g, "")}\ncode\n\`\`\`\n\n## Work\n\n1. Do it.\n`, code: (p) => `\`\`\`\n${p}\n\`\`\`\n\n## Work\n\n1. Do it.\n`,
  table: (p) => `| a | b |\n| - | - |\n| ${flat(p)} | x |\n\n## Work\n\n1. Do it.\n`, footnote: (p) => `See[^1].\n\n[^1]: ${flat(p)}\n\n## Work\n\n1. Do it.\n`,
  isolation: (p) => `## Work\n\n1. Shut it. {isolate ${flat(p).replace(/[{}]/g, "")}} {restore ${flat(p).replace(/[{}]/g, "")}}\n`, prove: (p) => `## Work\n\n1. Try it. {prove ${flat(p).replace(/[{}]/g, "")}}\n`,
};
const RECORDS = {
  "store title": (p, id) => ({ stores: [{ id, title: p }] }), "part number": (p, id) => ({ stores: [{ id, title: "t", "part-number": p }] }), "store note": (p, id) => ({ stores: [{ id, title: "t", note: p, "also-fits": [p] }] }),
  "tool title": (p, id) => ({ tools: [{ id, title: p }] }),
  "hazard title": (p, id) => ({ cautions: [{ id, title: p, signal: "danger", harm: "h", avoid: ["a"] }] }),
  "hazard harm": (p, id) => ({ cautions: [{ id, title: "t", signal: "danger", harm: p, avoid: [p], defer: p, words: [p] }] }),
};
/** What stands for a whole file. */
const ABOUT = (p) => ({ from: { boat: p.slice(0, 110), type: p }, licence: p, systems: [{ id: "rigging", title: p.slice(0, 110) }] });
const ABOUT_TEXTS = 4;

const PNG = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";
const guide = (id, system, front, body) => ({ id, system, path: `guides/${system}/${id}.md`, text: `---\n${front}---\n${body.replaceAll("ID/", `${id}/`)}` });
const held = (more) => ({ format: "garboard-guides", version: 1, from: { boat: "Tern", type: null }, language: "en", units: "metric", licence: null, made: "garboard 0.1.0", guides: [], systems: [], meters: [], stores: [], tools: [], cautions: [], pictures: [], ...more });
const page = (data) => `<!DOCTYPE html><title>x</title><script type="application/json" id="garboard-guides">${JSON.stringify(data).replaceAll("<", "\\u003c")}</script>`;

let folder, browser;
let tried = 0, taken = 0;
const books = [];

before(async () => {
  folder = mkdtempSync(join(tmpdir(), "garboard-receive-"));
  begin("records");
  begin("about");
  browser = await chromium.launch({ executablePath: process.env.CHROMIUM || "/usr/bin/chromium", args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"] });
});
after(async () => {
  await browser.close();
  rmSync(folder, { recursive: true });
});

/** A new book. */
function begin(book) {
  const begun = spawnSync(program, ["begin", book], { cwd: folder, encoding: "utf8" });
  assert.equal(begun.status, 0, begun.stderr);
  books.push(book);
  return book;
}

/** Receives a file; how many guides came in. Ends by itself, whatever it holds. */
function receive(data, book) {
  writeFileSync(join(folder, "shared.html"), page(data));
  const run = spawnSync(program, ["receive", "shared.html", "--book", `${book}/content`, "--yes", "--on", "2026-11-29"], { cwd: folder, encoding: "utf8", maxBuffer: 64e6 });
  assert.ok(run.status === 0 || run.status === 1, `${run.status}: ${run.stderr}`);
  // eslint-disable-next-line no-control-regex
  assert.doesNotMatch(run.stderr + run.stdout, /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]|panicked/);
  return run.stdout.split("\n").filter((line) => line.startsWith("received ")).length;
}

function everywhere() {
  const guides = [];
  const pictures = [];
  PAYLOADS.forEach((payload, at) => {
    guides.push(guide(`front-${at}`, "engine", FRONT(payload), "## Work\n\n1. Do it.\n"));
    tried += FRONT_TEXTS;
    for (const [field, body] of Object.entries(BODY)) {
      const id = `${field.replaceAll(" ", "-")}-${at}`;
      const text = body(payload);
      guides.push(guide(id, "engine", `title: ${field} ${at}\n`, text));
      if (text.includes("ID/p.png")) pictures.push({ path: `guides/engine/${id}/p.png`, type: "image/png", bytes: PNG });
      tried += 1;
    }
  });
  // A book of its own for each file.
  for (let from = 0; from < guides.length; from += 250) {
    const some = guides.slice(from, from + 250);
    const ids = new Set(some.map((each) => each.id));
    taken += receive(held({ guides: some, pictures: pictures.filter((one) => ids.has(one.path.split("/")[2])) }), begin(`boat-${from}`));
  }
  // Records, many to a file, each named by the guide that comes with them.
  for (const [field, record] of Object.entries(RECORDS)) {
    const all = PAYLOADS.map((payload, at) => record(payload, `${field.replaceAll(" ", "-")}-${at}`));
    tried += all.length;
    const joined = (key) => all.flatMap((one) => one[key] || []);
    const name = field.replaceAll(" ", "-");
    const hazards = joined("cautions").map((one) => one.id).join(", ");
    const parts = joined("stores").map((one) => `{item: ${one.id}}`).join(", ");
    const tools = joined("tools").map((one) => one.id).join(", ");
    taken += receive(held({ guides: [guide(`all-${name}`, "engine", `title: t\nhazards: [${hazards}]\nparts: [${parts}]\ntools: [${tools}]\n`, "## Work\n\n1. Do it.\n")], stores: joined("stores"), tools: joined("tools"), cautions: joined("cautions") }), "records");
  }
  // One file each, into a book of their own.
  PAYLOADS.forEach((payload, at) => {
    tried += ABOUT_TEXTS;
    taken += receive(held({ ...ABOUT(payload), guides: [guide(`about-${at}`, "rigging", `title: about ${at}\n`, "## Work\n\n1. Do it.\n")] }), "about");
  });
}

/** Whether a page is opened: each payload in one text of a guide, another one for the next; all of them where that is asked for, which takes long. */
function isOpened(name) {
  const [, field, at] = /^guides\/(.+)-(\d+)\.html$/.exec(name) || [];
  const turn = Object.keys(BODY).map((each) => each.replaceAll(" ", "-")).indexOf(field);
  return process.env.GARBOARD_ALL || turn < 0 || Number(at) % Object.keys(BODY).length === turn;
}

test("no payload in any text of a shared file runs, loads or leads away", { timeout: 3_600_000 }, async () => {
  assert.ok(new Set(PAYLOADS).size >= 150, `${PAYLOADS.length} payloads`);
  const began = Date.now();
  everywhere();
  if (process.env.GARBOARD_TIMES) console.log(`received: ${Date.now() - began} ms`);
  assert.ok(taken > 500, `only ${taken} came in`);
  // What came in, in one book more: one site is quicker made than twenty.
  begin("all");
  for (const book of books.filter((name) => name.startsWith("boat-"))) {
    cpSync(join(folder, book, "content/guides/engine"), join(folder, "all/content/guides/engine"), { recursive: true });
  }
  const sites = ["all", "records", "about"];
  for (const book of sites) {
    const published = spawnSync(program, ["publish", "--book", `${book}/content`, "--on", "2026-11-29"], { cwd: folder, encoding: "utf8", maxBuffer: 64e6 });
    assert.equal(published.status, 0, published.stderr.slice(0, 3000));
  }
  if (process.env.GARBOARD_TIMES) console.log(`published: ${Date.now() - began} ms`);
  const inside = pathToFileURL(folder).href;
  const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
  const trouble = [];
  let path = "";
  await context.exposeFunction("__caught", (what) => { trouble.push(`${path}: ${what}`); });
  await context.addInitScript(() => {
    for (const name of ["alert", "confirm", "prompt", "open", "print"]) window[name] = () => window.__caught(name);
    Object.defineProperty(window, "__ran", { set: () => window.__caught("a payload ran"), get: () => undefined });
  });
  context.on("page", (page) => { if (path) trouble.push(`${path}: another page was opened: ${page.url()}`); });
  const page = await context.newPage();
  page.on("dialog", (dialog) => { trouble.push(`${path}: a dialog`); void dialog.dismiss(); });
  page.on("pageerror", (error) => trouble.push(`${path}: script error: ${error.message}`));
  page.on("request", (request) => { if (!request.url().startsWith(inside) && !request.url().startsWith("data:image/")) trouble.push(`${path}: request ${request.url()}`); });
  await page.route(/^(?!file:|data:)/, (route) => route.abort());
  const pages = sites.flatMap((book) => ["index.html", "guides.html", "stores.html", "tools.html", "cautions.html", "about.html", "search.html", "pocket.html", "systems/engine.html", "systems/rigging.html",
    ...readdirSync(join(folder, book, "site/guides")).map((name) => `guides/${name}`).filter(isOpened)].map((name) => `${book}/site/${name}`)).filter((name) => existsSync(join(folder, name)));
  assert.ok(pages.length > 300, `${pages.length} pages`);
  for (path of pages) {
    await page.goto(pathToFileURL(join(folder, path)).href, { waitUntil: "load" });
    const odd = await page.evaluate(() => {
      const all = Array.from(document.querySelectorAll("main *, header *, footer *"));
      const handler = all.find((one) => Array.from(one.attributes).some((each) => each.name.startsWith("on") || /^\s*(java|vb)script:|^\s*data:(?!image\/)/i.test(each.value.replace(/[\u0000-\u0020]/g, ""))));
      const element = all.find((one) => ["IFRAME", "OBJECT", "EMBED", "BASE", "META", "LINK", "FRAME", "APPLET", "MARQUEE"].includes(one.tagName) || (one.tagName === "SCRIPT" && one.type !== "application/json"));
      // What a pointer would set off.
      for (const one of document.querySelectorAll("main a, main h3, main li")) one.dispatchEvent(new MouseEvent("mouseover", { bubbles: true }));
      return (handler || element || { outerHTML: "" }).outerHTML.slice(0, 300);
    });
    if (odd) trouble.push(`${path}: ${odd}`);
    if (page.url() !== pathToFileURL(join(folder, path)).href) trouble.push(`${path}: went to ${page.url()}`);
  }
  path = "";
  await context.close();
  assert.deepEqual(trouble, []);
  // Not one of the templates was reckoned with.
  assert.ok(!pages.some((name) => name.includes("guides/front-") && /<h1[^>]*>49</.test(readFileSync(join(folder, name), "utf8"))));
  console.log(`${tried} hostile inputs tried (${PAYLOADS.length} payloads), ${taken} guides taken as plain words on ${pages.length} pages, 0 got through`);
});
