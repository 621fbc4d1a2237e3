// What the browser tests share: the site under test, its kinds of page, one Chromium, and a watch on all it asks for.
//
//   TELLMARK_SITE=/where/the/site/is node --test tests/browser/*.test.mjs
//
// The site is a folder that `tellmark compile` wrote. CHROMIUM names another browser than the usual one.

import { existsSync, readFileSync, readdirSync } from "node:fs";
import { createServer } from "node:http";
import { extname, join, sep } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

import { slowDown, slowPage } from "./slow.mjs";

const built = fileURLToPath(new URL("../../public", import.meta.url));
export const site = process.env.TELLMARK_SITE ?? built;
if (!existsSync(join(site, "index.html"))) throw new Error(`no site in ${site}: compile one, and name its folder in TELLMARK_SITE`);

/** Every file of the site, with / between folders, sorted. */
export const files = readdirSync(site, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile())
  .map((entry) => join(entry.parentPath ?? entry.path, entry.name).slice(site.length + 1).split(sep).join("/"))
  .sort();
export const pages = files.filter((file) => file.endsWith(".html"));
export const textOf = (/** @type {string} */ file) => readFileSync(join(site, file), "utf8");

const first = (/** @type {RegExp} */ shape) => pages.find((page) => shape.test(page)) ?? "";
const prefer = (/** @type {string} */ page, /** @type {RegExp} */ shape) => (pages.includes(page) ? page : first(shape));

/** One page of every kind, by the name of its kind. */
export const kinds = Object.fromEntries(
  Object.entries({
    front: "index.html",
    country: prefer("countries/us.html", /^countries\//),
    series: prefer("series/us/dime-winged-head-1916-1945.html", /^series\/us\//),
    "series of many mints": prefer("series/sp/8-reales-portrait-1772-1825.html", /^series\//),
    issue: prefer("issues/us/dime/1916-d.html", /^issues\//),
    "issue, invented": first(/^issues\/orrin\//),
    families: "families/index.html",
    family: first(/^families\/us\//),
    alterations: "alterations/index.html",
    alteration: prefer("alterations/mark-added.html", /^alterations\/(?!index)/),
    methods: "methods/index.html",
    method: prefer("methods/struck-transfer-dies.html", /^methods\/(?!index)/),
    glossary: "glossary/index.html",
    term: prefer("glossary/fasces.html", /^glossary\/(?!index)/),
    sources: "sources/index.html",
    source: first(/^sources\/(?!index)/),
    coverage: "coverage.html",
    "coverage of a country": prefer("coverage/us.html", /^coverage\//),
    reading: "reading.html",
    bench: "bench/index.html",
    examination: "bench/examination.html",
    record: "bench/record.html",
    scales: "bench/scales.html",
    "photo measure": "bench/photo-measure.html",
    overlay: "bench/overlay.html",
    picture: "bench/picture.html",
    written: prefer("written/issues/us/dime/1916-d.html", /^written\//),
  }).filter(([, page]) => pages.includes(page)),
);

export const issues = pages.filter((page) => page.startsWith("issues/"));

/** Begun once, also when several ask at the same time. @type {Promise<import("playwright-core").Browser> | undefined} */
let browser;
function launch() {
  browser ??= chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
    ],
  });
  return browser;
}

export async function close() {
  await (await browser)?.close();
  browser = undefined;
}

export const onDisk = pathToFileURL(site).href + "/";

/**
 * A fresh profile with one page, in which nothing outside the site's folder can be asked for.
 * `log` fills with what went wrong; `asked` with every address.
 * @param {{ base?: string, width?: number, height?: number, dim?: boolean, scripts?: boolean, still?: boolean, touch?: boolean, scale?: number, print?: boolean }} [wish]
 */
export async function bench(wish = {}) {
  const base = wish.base ?? onDisk;
  const context = await (await launch()).newContext({
    viewport: { width: wish.width ?? 1440, height: wish.height ?? 900 },
    deviceScaleFactor: wish.scale ?? 1,
    colorScheme: wish.dim ? "dark" : "light",
    javaScriptEnabled: wish.scripts ?? true,
    hasTouch: wish.touch ?? false,
    reducedMotion: wish.still ? "reduce" : "no-preference",
  });
  /** @type {string[]} */
  const log = [];
  /** @type {string[]} */
  const asked = [];
  const inside = (/** @type {string} */ url) => url.startsWith(base) || url.startsWith("data:") || url === "about:blank";
  context.on("request", (request) => {
    asked.push(request.url());
    if (!inside(request.url())) log.push(`asked for ${request.url()}, outside the site`);
  });
  context.on("requestfailed", (request) => {
    const why = request.failure()?.errorText ?? "";
    // A page left while it loads is no failure of the site.
    if (why !== "net::ERR_ABORTED") log.push(`${request.url()} failed: ${why}`);
  });
  context.on("response", (response) => {
    if (response.status() >= 400) log.push(`${response.url()} answered ${response.status()}`);
  });
  await context.route((url) => !inside(url.href), (route) => route.abort());
  await slowDown(context);
  const page = await context.newPage();
  await slowPage(page);
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") log.push(`${page.url()}: ${message.text()}`);
  });
  page.on("pageerror", (error) => log.push(`${page.url()}: ${error.message}`));
  const open = async (/** @type {string} */ path) => {
    await page.goto(base + path, { waitUntil: "load" });
    return page;
  };
  return { context, page, open, log, asked, base, close: () => context.close() };
}

const TYPES = /** @type {Record<string, string>} */ ({
  ".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript", ".json": "application/json",
  ".png": "image/png", ".jpg": "image/jpeg", ".svg": "image/svg+xml",
});

/** Serves the site, and nothing else, on loopback. @returns {Promise<{ base: string, stop: () => void }>} */
export function serve() {
  const known = new Set(files);
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? "/", "http://127.0.0.1").pathname).slice(1) || "index.html";
    if (!known.has(path)) return void response.writeHead(404).end();
    response.writeHead(200, { "content-type": TYPES[extname(path)] ?? "application/octet-stream" });
    response.end(readFileSync(join(site, path)));
  });
  return new Promise((resolve) => {
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      const port = typeof address === "object" && address ? address.port : 0;
      resolve({ base: `http://127.0.0.1:${port}/`, stop: () => { server.closeAllConnections(); server.close(); } });
    });
  });
}
