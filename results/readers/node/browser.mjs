// A headless browser for the tests, and the results folder that they look at.
import {existsSync} from "node:fs";
import {resolve} from "node:path";
import {chromium} from "playwright-core";

export const folder = process.env.FORKFRONT_RESULTS ? resolve(process.env.FORKFRONT_RESULTS) : "";
export const program = process.env.FORKFRONT_PROGRAM ? resolve(process.env.FORKFRONT_PROGRAM) : "";
const executablePath = "/usr/bin/chromium";

// missing says why the tests cannot run here; false when they can.
export const missing = !folder ? "FORKFRONT_RESULTS names no results folder"
  : !program ? "FORKFRONT_PROGRAM names no forkfront"
  : !existsSync(executablePath) ? "no " + executablePath : false;

export const launch = () => chromium.launch({executablePath, args: [
  "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync",
]});

// open shows the report and notes whatever goes wrong in it, and whatever it asks for.
export const open = (browser, size) => openPage(browser, folder + "/report.html", size);

export async function openPage(browser, path, size = {width: 1280, height: 900}) {
  const page = await browser.newPage({viewport: size, reducedMotion: "reduce"});
  const wrong = [], asked = [];
  page.on("console", m => { if (m.type() === "error" || m.type() === "warning") wrong.push(m.text()); });
  page.on("pageerror", e => wrong.push(e.message));
  page.on("request", r => asked.push(r.url()));
  await page.addInitScript(() => new MutationObserver((_, observer) => {
    if (!document.documentElement?.dataset.ready) return;
    window.readyMs = performance.now(); // since the navigation began
    observer.disconnect();
  }).observe(document, {attributes: true, subtree: true, attributeFilter: ["data-ready"]}));
  const began = Date.now();
  await page.goto("file://" + path, {waitUntil: "commit"});
  await page.waitForSelector("html[data-ready=yes]"); // its first forks are drawn; motions of others may still be read
  await page.waitForLoadState();
  // The page says itself when it was ready: an answer to Playwright waits until it has copied the whole page.
  return {page, wrong, asked, tookMs: await page.evaluate(() => readyMs), loadedMs: Date.now() - began};
}
