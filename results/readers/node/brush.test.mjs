// The report with 20,000 candidates: how long it takes to open, and how long a step of a brush takes until it is on
// the screen. The candidates are those of the results folder, repeated with values shifted by up to 1 %.
import assert from "node:assert/strict";
import {mkdtempSync, readFileSync, rmSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {describe, test} from "node:test";
import {deflateRawSync, inflateRawSync} from "node:zlib";
import {folder, launch, missing, openPage} from "./browser.mjs";

const candidates = 20000, openMs = 2000, stepMs = 50;

// enlarged is the page with so many candidates: see results/report/pack.go and values.go for how they are packed.
function enlarged(page, rows) {
  const script = /<script type="text\/plain" (id="packed"|id="values"|class="motions")>([^<]*)<\/script>\n/g;
  const unpack = text => inflateRawSync(Buffer.from(text, "base64")), pack = raw => deflateRawSync(raw).toString("base64");
  const all = [...page.matchAll(script)], [about, values, ...blocks] = all.map(m => unpack(m[2])), D = JSON.parse(about), n = D.ids.length;
  let seed = 1;
  const random = () => (seed = seed * 48271 % 2147483647) / 2147483647; // Park and Miller 1988
  const from = Array.from({length: rows}, (_, r) => r < n ? r : Math.floor(random() * n)), of = values => from.map(r => values[r]);
  const picked = D.picks.map(p => p.row), order = [...picked, ...Array.from({length: rows}, (_, r) => r).filter(r => !picked.includes(r))];
  const motions = [];
  let at = 0, place = 0;
  for (const r of order.filter(r => r < n)) {
    if (place % D.block === 0) at = 0;
    motions[r] = blocks[Math.floor(place++ / D.block)].subarray(at, at += D.motion[r]);
  }
  const more = [], planes = Buffer.alloc(D.columns.length * 4 * rows);
  for (let p = 0; p < rows; p += D.block) more.push(pack(Buffer.concat(order.slice(p, p + D.block).map(r => motions[from[r]]))));
  D.columns.forEach((_, col) => from.forEach((r, i) => {
    const plane = (k, row, count) => 4 * count * col + k * count + row, low = values[plane(0, r, n)], high = values[plane(1, r, n)];
    let whole = (low | high << 8) << 16 >> 16;
    if (i >= n && whole !== -32768) whole = Math.round(whole * (0.99 + 0.02 * random()));
    [whole & 255, whole >> 8 & 255, values[plane(2, r, n)], values[plane(3, r, n)]].forEach((v, k) => { planes[plane(k, i, rows)] = v; });
  }));
  D.ids = from.map((r, i) => i < n ? D.ids[r] : `${D.ids[r]}x${i}`);
  for (const f of D.facets) f.of = of(f.of);
  D.case = of(D.case); D.closest = of(D.closest); D.motion = of(D.motion);
  const text = (kind, raw) => `<script type="text/plain" ${kind}>${raw}</script>\n`, ahead = Math.ceil(picked.length / D.block);
  const first = text('id="packed"', pack(JSON.stringify(D))) + text('id="values"', pack(planes)) + more.slice(0, ahead).map(m => text('class="motions"', m)).join("");
  let begun = false;
  return page.replaceAll(script, () => { const here = begun ? "" : first; begun = true; return here; })
    .replace("</body>", () => more.slice(ahead).map(m => text('class="motions"', m)).join("") + "</body>");
}

const median = all => [...all].sort((a, b) => a - b)[all.length >> 1];

// steps drags from one place to another and says how long each step took from the event to the frame after it.
async function steps(page, [x0, y0], [x1, y1], n) {
  await page.mouse.move(x0, y0);
  await page.mouse.down();
  await page.evaluate(() => {
    window.took = [];
    addEventListener("pointermove", e => {
      const at = performance.now();
      requestAnimationFrame(() => { const port = new MessageChannel(); port.port1.onmessage = () => took.push(performance.now() - at); port.port2.postMessage(0); });
    }, true);
  });
  for (let i = 1; i <= n; i++) {
    await page.mouse.move(x0 + (x1 - x0) * i / n, y0 + (y1 - y0) * i / n);
    await page.waitForFunction(i => took.length >= i, i);
  }
  await page.mouse.up();
  return page.evaluate(() => took);
}

describe(`report.html of ${candidates} candidates`, {skip: missing}, () => {
  test("opens, and follows the pointer", async t => {
    const dir = mkdtempSync(join(tmpdir(), "forkfront-brush-"));
    const browser = await launch();
    try {
      const path = join(dir, "report.html"), text = enlarged(readFileSync(folder + "/report.html", "utf8"), candidates);
      writeFileSync(path, text);
      const opened = [], loaded = [];
      let page, wrong;
      for (let k = 0; k < 3; k++) {
        if (page) await page.close();
        let tookMs, loadedMs;
        ({page, wrong, tookMs, loadedMs} = await openPage(browser, path, {width: 1400, height: 900}));
        opened.push(tookMs); loaded.push(loadedMs);
      }
      assert.equal(await page.evaluate(() => D.ids.length), candidates);
      await page.waitForFunction(() => L.density.of.every(plane => plane >= 0)); // all lines are drawn
      const axis = page.locator(".grab").nth(1);
      await axis.scrollIntoViewIfNeeded();
      let b = await axis.boundingBox();
      const lines = await steps(page, [b.x + 20, b.y + 20], [b.x + 20, b.y + b.height * 0.7], 20);
      const kept = await page.evaluate(() => S.passing);
      assert.ok(kept > 0 && kept < candidates, `${kept} of ${candidates} are within the limits`);
      await page.evaluate(() => byID("clear").click());
      await page.locator("#dots svg").scrollIntoViewIfNeeded();
      b = await page.locator("#dots svg").boundingBox();
      const dots = await steps(page, [b.x + 100, b.y + 40], [b.x + 500, b.y + 300], 20);
      assert.ok(await page.evaluate(() => S.limits.size) === 2, "the box sets no limits");
      const say = all => `median ${median(all).toFixed(0)}, worst ${Math.max(...all).toFixed(0)} ms`;
      t.diagnostic(`${(text.length / 1e6).toFixed(1)} MB; opens: ${say(opened)}; loaded to its end: ${say(loaded)}; a step along an axis: ${say(lines)}; a step of a box: ${say(dots)}`);
      assert.deepEqual(wrong, []);
      t.diagnostic(`wanted on an idle machine: opens in ${openMs} ms, a step under ${stepMs} ms: ${median(opened) < openMs && median(lines) < stepMs && median(dots) < stepMs ? "met" : "not met"}`);
    } finally {
      await browser.close();
      rmSync(dir, {recursive: true});
    }
  });
});
