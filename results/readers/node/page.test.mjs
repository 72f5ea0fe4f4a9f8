// The report as a person uses it: it renders without errors and without a network, the slider moves
// the forks, brushing filters, and all of it works from the keyboard.
import assert from "node:assert/strict";
import {execFileSync} from "node:child_process";
import {cpSync, mkdtempSync, readFileSync, rmSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {after, before, describe, test} from "node:test";
import {folder, launch, missing, open, openPage, program} from "./browser.mjs";
import {readTable} from "./tables.mjs";

// drawn waits until what changed is on the screen: the page draws once a frame, and gives the focus back a frame later.
const drawn = page => page.evaluate(async () => { for (let i = 0; i < 3; i++) await new Promise(done => requestAnimationFrame(done)); });
// selected waits until a number of candidates is selected; their motions are unpacked first.
const selected = (page, n) => page.waitForFunction(n => S.chosen.length === n, n);
const kept = async page => {
  await drawn(page);
  return +(await page.locator("#count").textContent()).split(" ")[0];
};

// axis drags along the i-th axis from one share of its height to another, 0 at the top.
async function brush(page, i, from, to) {
  const axis = page.locator(".grab").nth(i);
  await axis.scrollIntoViewIfNeeded();
  const b = await axis.boundingBox(), x = b.x + b.width / 2, y = p => b.y + 8 + (b.height - 16) * p;
  await page.mouse.move(x, y(from));
  await page.mouse.down();
  await page.mouse.move(x, y((from + to) / 2));
  await page.mouse.move(x, y(to));
  await page.mouse.up();
}

describe("report.html", {skip: missing}, () => {
  let browser;
  before(async () => { browser = await launch(); });
  after(async () => { await browser.close(); });

  test("renders without errors and asks for nothing but itself", async () => {
    const {page, wrong, asked} = await open(browser);
    assert.ok(await page.locator(".case").count() > 0, "no search is judged");
    assert.ok(await page.locator("[data-axis]").count() > 1, "no axes");
    assert.ok(await page.locator("#cards .card svg [data-body]").count() > 3, "no links are drawn");
    assert.match(await page.locator(".caution").first().textContent(), /ISO 4210-6/);
    await page.waitForFunction(() => L.whole); // all lines are drawn
    const ink = await page.evaluate(() => L.live.getContext("2d").getImageData(0, 0, L.live.width, L.live.height).data.some(v => v > 0));
    assert.ok(ink, "the lines are blank");
    assert.deepEqual(wrong, []);
    assert.deepEqual(asked.filter(u => !u.startsWith("file://")), []);
    await page.close();
  });

  test("the slider moves the fork to where the pivot table has it", async () => {
    const {page, wrong} = await open(browser);
    const id = (await page.locator("#cards h3").first().textContent()).replace(/^1: /, "");
    const rows = execFileSync(program, ["extract", folder, id, "--as", "table"], {encoding: "utf8"}).trim().split("\n").map(l => l.split(","));
    const head = rows[0];
    for (const [button, name] of [["top", "top_out"], ["sag", "sag"], ["out", "bottom_out"]]) {
      await page.locator(`[data-at=${button}]`).click();
      await drawn(page);
      let compared = 0;
      for (const row of rows.slice(1).filter(r => r[0] !== "root")) {
        const dot = page.locator(`#cards .card:first-child [data-point="${row[0]}"]`);
        const [x, y] = [+await dot.getAttribute("cx"), -await dot.getAttribute("cy")];
        // Places are packed to 0.01 mm, head angles to 0.001 degrees (0.02 mm at 1.3 m).
        assert.ok(Math.abs(x - row[head.indexOf(`x_${name}_mm`)]) < 0.1, `${row[0]} at ${name}: x ${x}, table ${row}`);
        assert.ok(Math.abs(y - row[head.indexOf(`z_${name}_mm`)]) < 0.1, `${row[0]} at ${name}: z ${y}, table ${row}`);
        compared++;
      }
      assert.ok(compared > 3);
    }
    const said = await page.locator("#travelsay").textContent();
    await page.locator("#travel").focus();
    await page.keyboard.press("ArrowLeft");
    await page.keyboard.press("PageDown");
    await drawn(page);
    assert.notEqual(await page.locator("#travelsay").textContent(), said, "the slider does not answer to keys");
    assert.deepEqual(wrong, []);
    await page.close();
  });

  test("a chosen fork shows its closest pair, its parts and which pivots matter, as the table has them", async () => {
    const {page, wrong} = await open(browser);
    const {rows} = await readTable(folder + "/front.parquet");
    const known = await page.evaluate(() => D.picks.map(p => p.row)), other = rows.findIndex((_, r) => !known.includes(r));
    await page.evaluate(r => choose(r), other); // one of which the page has the closest pair alone
    await drawn(page);
    const cards = await page.locator(".card").all();
    assert.ok(cards.length > 1);
    for (const card of cards) {
      const id = (await card.locator("h3").textContent()).replace(/^\d: /, ""), row = rows.find(r => r.candidate === id);
      const table = title => card.locator("details", {has: page.locator("summary", {hasText: title})}).locator("tbody tr").evaluateAll(trs => trs.map(tr => [...tr.children].map(c => c.textContent)));
      const [pair, gap, travel, steer] = (await table("Clearance"))[0];
      assert.equal(pair, row.clearance_pair.replaceAll("_", " "));
      for (const [shown, name] of [[gap, "clearance_mm"], [travel, "clearance_travel_mm"], [steer, "clearance_steer_deg"]]) {
        assert.ok(Math.abs(shown.replace("−", "-") - row[name]) <= 0.006 * Math.abs(row[name]) + 1e-9, `${id}: ${name} ${shown}, table ${row[name]}`);
      }
      const masses = (await table("Mass")).map(cells => parseFloat(cells[2]));
      assert.ok(masses.length > 5);
      // Each is rounded to a gram, after packing to a tenth.
      assert.ok(Math.abs(masses.reduce((a, b) => a + b, 0) - row.mass_g) <= 0.55 * masses.length, `${id}: parts of ${masses}, ${row.mass_g} g`);
      const scatters = await table("Tolerance");
      assert.ok(scatters.length > 2);
      for (const [, said, from] of scatters) {
        assert.ok(parseFloat(said) > 0);
        const shares = [...from.matchAll(/ (\d+) % \((along|ahead)\)/g)].map(m => +m[1]);
        assert.ok(shares.length > 0 && shares.reduce((a, b) => a + b, 0) <= 100 + shares.length / 2, from);
      }
    }
    assert.deepEqual(wrong, []);
    await page.close();
  });

  test("brushing an axis keeps what lies in the range, and a click lets all back", async () => {
    const {page, wrong} = await open(browser);
    const all = await kept(page);
    await brush(page, 0, 0, 0.3);
    const some = await kept(page);
    assert.ok(some > 0 && some < all, `${some} of ${all}`);
    const right = await page.evaluate(() => {
      const [[col, [lo, hi]]] = [...S.limits];
      return D.columns[col].values.filter(v => v !== null && v >= lo && v <= hi).length;
    });
    assert.equal(some, right);
    await brush(page, 1, 0, 0.5);
    assert.ok(await kept(page) < some, "a second limit keeps no fewer");
    const shown = await page.locator("#rows tbody tr").count();
    assert.ok(shown <= await kept(page), "the table shows what is filtered out");
    await page.locator("#clear").click();
    assert.equal(await kept(page), all);
    await brush(page, 0, 0.2, 0.2); // a click
    assert.equal(await kept(page), all);
    assert.deepEqual(wrong, []);
    await page.close();
  });

  test("a box in the scatter limits both measures", async () => {
    const {page} = await open(browser);
    const all = await kept(page);
    await page.locator("#dots svg").scrollIntoViewIfNeeded();
    const b = await page.locator("#dots svg").boundingBox();
    await page.mouse.move(b.x + 80, b.y + 20);
    await page.mouse.down();
    await page.mouse.move(b.x + 200, b.y + 120);
    await page.mouse.move(b.x + 420, b.y + 260);
    await page.mouse.up();
    assert.ok(await kept(page) < all);
    assert.equal(await page.locator(".limit").count(), 2);
    await page.close();
  });

  test("limits, axes and choice work from the keyboard", async () => {
    const {page, wrong} = await open(browser);
    const all = await kept(page);
    await page.locator("#addlimit").selectOption({index: 1});
    const field = page.locator(".limit input").nth(1);
    const middle = await page.evaluate(() => { const s = sorted(0); return s[s.length >> 1]; });
    await field.fill(String(middle));
    await field.press("Enter");
    const some = await kept(page);
    assert.ok(some > 0 && some < all, `${some} of ${all}`);
    const way = () => page.evaluate(() => upward(S.axes[0]));
    const before = await way();
    await page.locator(".flip").first().focus();
    await page.keyboard.press("Enter");
    assert.equal(await way(), !before, "the axis does not turn over");
    const cards = await page.locator(".card").count();
    assert.ok(cards > 0 && cards < 4, `${cards} candidates are selected`);
    const box = page.locator("#rows input:not(:checked)").nth(3), row = await box.getAttribute("data-row");
    await box.focus();
    await page.keyboard.press("Space");
    await selected(page, cards + 1);
    await drawn(page);
    assert.equal(await page.locator(".card").count(), cards + 1);
    assert.equal(await page.evaluate(() => document.activeElement.dataset.row), row, "the focus is lost");
    for (const mode of ["linear", "log", "rank"]) await page.locator("#mode").selectOption(mode);
    await page.locator("#rows thead button").first().focus();
    await page.keyboard.press("Enter");
    await drawn(page);
    assert.equal(await page.locator("#rows th[aria-sort]").count(), 1);
    assert.deepEqual(wrong, []);
    await page.close();
  });

  test("a suggested fork is selected in its list, and a fifth one asks which it replaces", async () => {
    const {page, wrong} = await open(browser);
    const ids = () => page.evaluate(() => S.chosen.map(r => D.ids[r])), before = await ids();
    const ticks = page.locator("tr[data-pick] input:not(:checked)");
    assert.ok(await ticks.count() >= 5 - before.length, "too few suggestions");
    for (let n = before.length; n < 4; n++) {
      await ticks.first().click();
      await selected(page, n + 1);
      await drawn(page);
    }
    const four = await ids();
    assert.equal(four.length, 4);
    assert.deepEqual(four.slice(0, before.length), before);
    await page.evaluate(() => choose(D.ids.findIndex((_, r) => !S.chosen.includes(r))));
    await drawn(page);
    assert.deepEqual(await ids(), four, "a fork was dropped unasked");
    assert.equal(await page.locator("#swap").isVisible(), true);
    await page.locator("#swap button").nth(2).click();
    const now = await ids();
    assert.deepEqual([now[0], now[1], now[3]], [four[0], four[1], four[3]]);
    assert.notEqual(now[2], four[2]);
    assert.equal(await page.locator("#swap").isVisible(), false);
    const tray = await page.locator("#tray").boundingBox(), plot = await page.locator("#begin").boundingBox();
    assert.ok(tray.x >= plot.x + plot.width - 1 && Math.abs(tray.y - plot.y) < 60, "the selection is not beside the lists");
    assert.ok(await page.locator("#peekside svg [data-body]").count() > 2, "the selected fork is not drawn beside the plots");
    assert.deepEqual(wrong, []);
    await page.close();
  });

  test("candidates are filtered and coloured by what they are made of", async () => {
    const {page, wrong} = await open(browser);
    const all = await kept(page), facets = await page.evaluate(() => F.map(f => [f.name, f.values.length]));
    for (const name of ["bike", "mechanism", "shock_size", "material", "case"]) assert.ok(facets.some(f => f[0] === name), name);
    const tick = page.locator("#facets fieldset", {hasText: "mechanism"}).locator("input").first();
    await tick.uncheck();
    const right = await page.evaluate(() => { const f = F.find(f => f.name === "mechanism"); return [...f.of].filter(v => v !== 0).length; });
    assert.ok(right > 0 && right < all);
    assert.equal(await kept(page), right);
    await tick.check();
    assert.equal(await kept(page), all);
    const by = await page.locator("#colour option").evaluateAll(o => o.map(x => x.textContent));
    assert.ok(by.length > 1, by.join());
    await page.locator("#colour").selectOption({label: by.at(-1)});
    const key = await page.locator("#key").textContent(), values = await page.evaluate(() => F[S.colour].values);
    assert.ok(values.length > 1 && values.every(v => key.includes(v)), key);
    assert.deepEqual(wrong, []);
    await page.close();
  });

  test("a link keeps the state", async () => {
    const {page} = await open(browser);
    await brush(page, 0, 0.1, 0.4);
    await page.locator("#facets fieldset", {hasText: "mechanism"}).locator("input").nth(1).uncheck();
    await page.locator("#mode").selectOption("linear");
    await page.locator("#ax").selectOption({index: 3});
    await page.locator("#rows thead button").nth(1).click();
    const before = await page.evaluate(() => S.chosen.length), box = page.locator("#rows input").nth(2);
    await drawn(page);
    const ticked = await box.isChecked();
    await box.click();
    await selected(page, before + (ticked ? -1 : 1));
    await page.locator(".flip").nth(1).click();
    await page.locator("#peektravel").fill("400");
    await page.waitForFunction(() => location.hash === linkText());
    const state = p => p.evaluate(() => JSON.stringify([S.mode, S.axes, [...S.turned], [...S.limits], [...S.hidden].map(([f, v]) => [f, [...v]]), S.colour, S.chosen, S.shown, S.sort, S.sortUp, S.part, P.a, P.b, S.passing]));
    const link = page.url(), there = await state(page);
    assert.match(link, /#fork=/);
    const other = await browser.newPage({viewport: {width: 1280, height: 900}});
    await other.goto(link);
    await other.waitForSelector("html[data-ready=yes]");
    assert.equal(await state(other), there);
    await other.close();
    await page.close();
  });

  test("the selection is copied as ids and saved as CSV", async () => {
    const {page} = await open(browser);
    const {rows} = await readTable(folder + "/front.parquet"), ids = await page.evaluate(() => S.chosen.map(r => D.ids[r]));
    const [download] = await Promise.all([page.waitForEvent("download"), page.locator("#savecsv").click()]);
    const lines = readFileSync(await download.path(), "utf8").trim().split("\r\n").map(l => l.split(","));
    assert.deepEqual(lines.slice(1).map(l => l[0]), ids);
    for (const line of lines.slice(1)) {
      const row = rows.find(r => r.candidate === line[0]);
      assert.equal(line.length, lines[0].length);
      lines[0].forEach((name, k) => {
        if (typeof row[name] === "number") assert.ok(Math.abs(line[k] - row[name]) <= 0.00051 * Math.abs(row[name]), `${name}: ${line[k]}, table ${row[name]}`);
        else if (typeof row[name] === "string") assert.equal(line[k], row[name]);
      });
    }
    await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
    await page.locator("#copyids").click();
    assert.equal(await page.evaluate(() => navigator.clipboard.readText()), ids.join("\n"));
    await page.close();
  });

  test("the telescopic fork stands on the axes that it has a value for", async () => {
    const {page} = await open(browser);
    const marks = await page.locator("[data-telescopic]").count(), known = await page.evaluate(() => S.axes.filter(col => bases().some(b => D.columns[col].name in b.values)).length);
    assert.ok(known > 1 && marks >= known, `${marks} marks of ${known} axes`);
    await page.close();
  });

  test("a dark screen is dark, and paper is light", async () => {
    const page = await browser.newPage({viewport: {width: 1280, height: 900}, colorScheme: "dark"});
    await page.goto("file://" + folder + "/report.html");
    await page.waitForSelector("html[data-ready=yes]");
    const light = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor.match(/\d+/g).reduce((a, b) => a + +b, 0) / 765);
    assert.ok(await light() < 0.2);
    await page.emulateMedia({media: "print", colorScheme: "dark"});
    assert.ok(await light() > 0.9);
    await page.close();
  });

  test("a phone shows it without sideways scrolling, and a printer without controls", async () => {
    const {page, wrong} = await open(browser, {width: 390, height: 800});
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), "the page is wider than the phone");
    await page.emulateMedia({media: "print"});
    assert.equal(await page.locator("#travel").isVisible(), false);
    assert.equal(await page.locator(".caution").first().isVisible(), true);
    assert.equal(await page.locator("#cards svg").first().isVisible(), true);
    const width = () => page.evaluate(() => L.width), screen = await width();
    await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
    assert.ok(await width() <= 690, "the axes are wider than a sheet of A4 between its margins of 14 mm");
    assert.equal(await page.locator(".card details:not([open])").count(), 0, "something stays folded on paper");
    await page.evaluate(() => dispatchEvent(new Event("afterprint")));
    assert.equal(await width(), screen);
    assert.deepEqual(wrong, []);
    await page.close();
  });

  test("a suggested fork of other weights than the run's says why it has no exchanges", async t => {
    const work = mkdtempSync(join(tmpdir(), "preferred-")), dir = join(work, "out");
    t.after(() => rmSync(work, {recursive: true}));
    cpSync(folder, dir, {recursive: true});
    const traded = new Set((await readTable(dir + "/tradeoffs.parquet")).rows.map(r => r.candidate));
    // One of these pairs of weights prefers a fork that the run did not suggest.
    for (const measures of [["path_straightness_mm", "mass_g"], ["trail_variation_mm", "mass_g"], ["trail_variation_mm", "clearance_mm"]]) {
      execFileSync(program, ["report", dir, "--prefer", measures.map(m => m + "=1").join(",")]);
      const {page, wrong} = await openPage(browser, dir + "/report.html");
      const row = await page.evaluate(traded => D.picks.map(p => p.row).find(r => !traded.includes(D.ids[r])), [...traded]);
      if (row !== undefined) {
        await page.evaluate(async r => { for (const c of [...S.chosen]) await choose(c); await choose(r); }, row);
        await page.waitForFunction(r => S.chosen.length === 1 && S.chosen[0] === r && document.querySelectorAll("#cards .card").length === 1, row);
        await drawn(page);
        assert.match(await page.locator("#cards .card").textContent(), /No exchanges nearby are listed for this fork/);
        assert.deepEqual(wrong, []);
        return;
      }
      await page.close();
    }
    assert.fail("each preferred fork was suggested by the run");
  });
});
