// The published site that is tested: its pages, and a browser to look at them.
import { readdirSync, existsSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

export const site = process.env.GARBOARD_SITE;
if (!site || !existsSync(join(site, "index.html"))) {
  throw new Error("GARBOARD_SITE must name the folder of a published site");
}

const walk = (folder) =>
  readdirSync(folder, { withFileTypes: true }).flatMap((item) =>
    item.isDirectory() ? walk(join(folder, item.name)) : [join(folder, item.name)],
  );

/** All files of the site, from its top, with forward slashes. */
export const files = walk(site).map((path) => relative(site, path).split(sep).join("/")).sort();
export const pages = files.filter((path) => path.endsWith(".html"));

export const fileUrl = (page) => pathToFileURL(join(site, page)).href;

export const launch = () =>
  chromium.launch({
    executablePath: process.env.CHROMIUM || "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
  });

/** A page that notes console errors and every request that leaves the folder of the site. */
export async function open(browser, options = {}) {
  const context = await browser.newContext({ viewport: { width: 360, height: 740 }, ...options });
  const page = await context.newPage();
  const trouble = [];
  const inside = pathToFileURL(site).href;
  page.on("console", (message) => {
    if (message.type() === "error") trouble.push(`console: ${message.text()}`);
  });
  page.on("pageerror", (error) => trouble.push(`script: ${error.message}`));
  page.on("request", (request) => {
    const url = request.url();
    if (!url.startsWith(inside) && !url.startsWith("data:")) trouble.push(`request: ${url}`);
  });
  page.on("requestfailed", (request) => trouble.push(`failed: ${request.url()}`));
  return { context, page, trouble };
}

/** Sets day or night for all pages that the context opens. */
export const setLight = (context, light) =>
  context.addInitScript((chosen) => {
    addEventListener("DOMContentLoaded", () => {
      document.documentElement.dataset.light = chosen;
    });
  }, light);
