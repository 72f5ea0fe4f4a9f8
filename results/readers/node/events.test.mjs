// The report's events: the one that is chosen is shown with the curves and values that the tables have, and the side views play
// it at the pace that is set.
import assert from "node:assert/strict";
import {execFileSync} from "node:child_process";
import {mkdtempSync, rmSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {after, before, describe, test} from "node:test";
import {folder, launch, missing, open, program} from "./browser.mjs";
import {footer, readTable} from "./tables.mjs";

const drawn = page => page.evaluate(async () => { for (let i = 0; i < 3; i++) await new Promise(done => requestAnimationFrame(done)); });
const number = text => parseFloat(text.replaceAll("−", "-"));
const options = (page, id) => page.locator(`#${id} option`).evaluateAll(all => all.map(o => [o.value, o.textContent]));
const chosen = page => page.evaluate(() => S.chosen.map(r => D.ids[r]));

describe("events in report.html", {skip: missing}, () => {
  let browser;
  before(async () => { browser = await launch(); });
  after(async () => { await browser.close(); });

  test("an event that is chosen has its curves, and its values as the table has them", async () => {
    const {page, wrong} = await open(browser);
    const {rows, metadata} = await readTable(folder + "/events.parquet");
    const described = JSON.parse(footer(metadata)["forkfront.columns"]);
    const events = await options(page, "event"), forks = await chosen(page);
    assert.deepEqual(events.map(e => e[1]), [...new Set(rows.map(r => r.event.replaceAll("_", " ")))]);
    assert.ok(forks.length > 0);
    let compared = 0;
    for (const [value, label] of events) {
      await page.locator("#event").selectOption(value);
      await drawn(page);
      assert.ok((await page.locator("#eventsays").textContent()).startsWith(label + ": "), label);
      const series = await page.locator("#timecurves figure").evaluateAll(all => all.map(f => [...f.querySelectorAll("[data-series]")].map(s => s.dataset.series)));
      const names = ["tel.", ...forks.map((_, i) => String(i + 1))];
      assert.deepEqual(series, [...Array(5).fill(names), names.slice(1)], `${label}: five curves over time, and the dampers`);
      const table = await page.locator("#eventvalues tr").evaluateAll(trs => trs.map(tr => [...tr.children].map(c => c.textContent)));
      assert.deepEqual(table[0], [label, "telescopic", ...forks.map((_, i) => String(i + 1))]);
      const bike = rows.find(r => r.candidate === forks[0]).bike;
      const known = [null, ...forks].map(id => rows.find(r => r.candidate === id && r.bike === bike && r.event.replaceAll("_", " ") === label));
      const columns = await page.evaluate(e => D.ridden.events[e].has.map(q => D.ridden.quantities[q]), +value);
      assert.equal(table.length, columns.length + 1);
      for (const [k, [head, ...cells]] of table.slice(1).entries()) {
        assert.equal(head, columns[k].label + (columns[k].unit ? ", " + columns[k].unit : ""));
        const {name: column} = described.find(c => c.doc === columns[k].doc && c.unit === columns[k].unit) || {};
        assert.ok(column, `no column for ${head}`);
        for (const [i, cell] of cells.entries()) {
          const want = known[i][column];
          if (want === null) assert.match(cell, /^–/, `${label}, ${head}`);
          else assert.ok(Math.abs(number(cell) - want) <= 0.00051 * Math.abs(want) + 1e-9, `${label}, ${head}: ${cell}, table ${want}`);
          compared++;
        }
      }
    }
    const heads = await page.locator("table.ridden thead tr").evaluateAll(trs => trs.map(tr => [...tr.querySelectorAll("th:not(.left)")].reduce((sum, th) => sum + th.colSpan, 0)));
    const cells = await page.locator("table.ridden tbody tr:first-child td").count();
    assert.deepEqual(heads, [cells, cells], "the groups of the list's headings cover its columns");
    assert.ok(compared > 30 * (forks.length + 1) / 2, `${compared} values`);
    assert.deepEqual(wrong, []);
    await page.close();
  });

  test("curves are those that score writes of the same fork", async t => {
    const work = mkdtempSync(join(tmpdir(), "traces-"));
    t.after(() => rmSync(work, {recursive: true}));
    const {page, wrong} = await open(browser);
    const [id] = await chosen(page), concept = join(work, "fork.yaml"), traces = join(work, "traces.parquet");
    writeFileSync(concept, execFileSync(program, ["extract", folder, id]));
    execFileSync(program, ["score", concept, "--traces", traces], {stdio: "ignore"});
    const {rows} = await readTable(traces);
    for (const who of ["fork", "telescopic"]) {
      const packed = await page.evaluate(who => D.ridden.events.map((e, i) => {
        const fork = who === "fork" ? riderOf(S.chosen[0]) : baseOf(S.chosen[0]);
        return {name: e.name, from: e.from_s, step: D.ridden.step_s, channels: D.ridden.channels.map(c => ({...c, values: [...rideTrack(fork, i, c.name)]}))};
      }), who);
      for (const e of packed) {
        const own = rows.filter(r => r.event === e.name && (who === "fork") === (r.candidate !== null));
        for (const c of e.channels) {
          assert.ok(c.values.length > 50, `${who}, ${e.name}: ${c.values.length} samples`);
          for (const [k, v] of c.values.entries()) {
            const row = own[Math.round((e.from + k * e.step) / 0.002)];
            assert.ok(Math.abs(row.time_s - e.from - k * e.step) < 1e-9 && Math.abs(v - row[c.name]) <= 0.501 * c.step, `${who}, ${e.name}, ${c.name} at ${row.time_s} s: ${v}, ${row[c.name]}`);
          }
        }
      }
    }
    assert.deepEqual(wrong, []);
    await page.close();
  });

  test("dampers as sold are drawn with their curves, scaled to their coefficients", async () => {
    const {page, wrong} = await open(browser);
    // By hand: 100 N at 0.1 m/s and 150 N at 0.2 m/s are 750 N s/m; set to 1500 N s/m the forces are twice that, and beyond 0.2 m/s they
    // rise by 1000 N s/m.
    const points = await page.evaluate(() => damped([[-1, -3000], [0, 0], [0.1, 100], [0.2, 150]], 0.2, 1500, 0.5));
    assert.deepEqual(points.map(p => p.map(v => +v.toFixed(9))), [[0, 0], [0.1, 200], [0.2, 300], [0.5, 600]]);
    assert.deepEqual((await page.evaluate(() => damped([[-1, -3000], [0, 0], [0.2, 150]], 0.2, 1500, -0.5)))[1], [-0.5, -750]);
    assert.deepEqual(await page.evaluate(() => damped(undefined, 0.2, 1500, -2)), [[0, 0], [-2, -3000]]);
    await page.evaluate(() => {
      caseOf(S.chosen[0]).ride.dampers = [{name: "blows off", compression: [500, 1500], rebound: [500, 1500], curve: [[-1, -3000], [0, 0], [0.1, 100], [0.2, 150]]}];
      drawEvents();
    });
    const corners = await page.locator('[data-area="blows off"]').evaluate(e => e.getAttribute("d").split("L").length);
    assert.equal(corners, 2 * 4 + 2 * 2, "an area between two curves in compression and two lines in rebound");
    assert.match(await page.locator("#timecurves").textContent(), /from soft to firm \(blows off\)\. A curve has the coefficient of the straight line that it meets at 0\.2 m\/s/);
    assert.deepEqual(wrong, []);
    await page.close();
  });

  test("side views play an event: the wheel stands on the road where it has a load, and is off it where it has none", async () => {
    const {page, wrong} = await open(browser);
    const braked = (await options(page, "moved")).find(o => o[1] === "bump braked")[0];
    await page.locator("#moved").selectOption(braked);
    await drawn(page);
    assert.equal(await page.locator("#event").inputValue(), braked, "the curves are of another event");
    assert.equal(await page.locator("#timecurves .cursor").evaluateAll(all => all.filter(l => l.style.display !== "none").length), 5);
    let [on, off, times] = [0, 0, new Set()];
    for (let at = 0; at <= 1000; at += 20) {
      await page.locator("#travel").evaluate((e, v) => { e.value = v; e.dispatchEvent(new Event("input")); }, at);
      await drawn(page);
      const seen = await page.evaluate(() => {
        const svg = document.querySelector("#cards .card svg"), tyre = svg.querySelector(".tyre"), road = svg.querySelector(".road");
        const points = road.getAttribute("d").slice(1).split("L").map(p => p.split(" ").map(Number)), [x, y, r] = ["cx", "cy", "r"].map(k => +tyre.getAttribute(k));
        let far = Infinity;
        for (let i = 1; i < points.length; i++) {
          const [[ax, ay], [bx, by]] = [points[i - 1], points[i]], [u, v] = [bx - ax, by - ay], t = Math.min(1, Math.max(0, ((x - ax) * u + (y - ay) * v) / (u * u + v * v || 1)));
          far = Math.min(far, Math.hypot(x - ax - t * u, y - ay - t * v));
        }
        return {deep: r - far, load: svg.querySelector(".load") !== null, says: svg.textContent, time: document.getElementById("travelsay").textContent};
      });
      times.add(seen.time);
      // Places along the road are packed to 1 mm, heights to 0.1 mm: on a ramp of 45 degrees that is 0.4 mm, at a corner of the bump less.
      if (seen.load) { on++; assert.ok(seen.deep > -0.6 && seen.deep < 40, `${seen.time}: the loaded tyre is compressed by ${seen.deep} mm`); }
      else { off++; assert.ok(seen.deep < 0.6 && seen.says.includes("no contact"), `${seen.time}: the tyre in the air is compressed by ${seen.deep} mm`); }
    }
    assert.ok(on > 20 && off > 0, `${on} times on the road, ${off} off it`);
    assert.ok(times.size > 40, "the slider does not move the event");
    await page.locator("#moved").selectOption("");
    await drawn(page);
    assert.equal(await page.locator("#cards .card:first-child svg .load").count(), 0);
    assert.match(await page.locator("#travelsay").textContent(), /^travel/);
    assert.equal(await page.locator("#timecurves .cursor").evaluateAll(all => all.filter(l => l.style.display !== "none").length), 0);
    assert.deepEqual(wrong, []);
    await page.close();
  });

  test("real time and slow motion: as much of the event passes in a frame as the pace says", async () => {
    const {page, wrong} = await open(browser);
    await page.evaluate(() => { // frames come when the test has them come
      const waiting = [];
      window.requestAnimationFrame = f => waiting.push(f);
      window.frame = now => { for (const f of waiting.splice(0)) f(now); };
    });
    const stop = (await options(page, "moved")).find(o => o[1] === "stop")[0];
    await page.locator("#moved").selectOption(stop);
    await page.locator("#play").click();
    for (const [value, label] of await options(page, "pace")) {
      await page.locator("#pace").selectOption(value);
      const passed = await page.evaluate(() => { frame(1000); const from = S.time; frame(1040); return S.time - from; });
      const slower = label === "real time" ? 1 : number(label.split("/")[1]);
      assert.ok(slower >= 1 && Math.abs(passed - 0.04 / slower) < 1e-9, `${label}: ${passed} s in 40 ms`);
      await page.evaluate(() => { for (const click of [1, 2]) byID("play").click(); }); // stopped and started again
    }
    assert.deepEqual(wrong, []);
    await page.close();
  });
});
