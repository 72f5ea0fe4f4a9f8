// The drawing as somebody else's reader of DXF has it, beside the pivot table.
import assert from "node:assert/strict";
import {execFileSync} from "node:child_process";
import {describe, test} from "node:test";
import DxfParser from "dxf-parser";
import {folder, program} from "./browser.mjs";
import {readTable} from "./tables.mjs";

const skip = !folder || !program ? "FORKFRONT_RESULTS and FORKFRONT_PROGRAM are not both set" : false;
const extract = (id, as) => execFileSync(program, ["extract", folder, id, "--as", as], {encoding: "utf8"});

describe("extract --as drawing", {skip}, () => {
  test("has every pivot where the table has it, and a layer for every body", async () => {
    const {rows} = await readTable(folder + "/front.parquet");
    const cases = [...new Set(rows.map(r => r.case))];
    assert.ok(cases.length > 0);
    for (const name of cases) {
      const {candidate} = rows.find(r => r.case === name);
      const drawing = new DxfParser().parseSync(extract(candidate, "drawing"));
      const [head, ...pivots] = extract(candidate, "table").trim().split("\n").map(l => l.split(","));
      const on = (layer, type) => drawing.entities.filter(e => e.layer === layer && e.type === type);
      for (const [suffix, travel] of [["", "top_out"], ["_SAG", "sag"], ["_OUT", "bottom_out"]]) {
        const layers = suffix ? ["PIVOTS" + suffix] : pivots.map(r => "PIVOT_" + r[0].toUpperCase());
        const points = layers.flatMap(l => on(l, "POINT")).map(e => [e.position.x, e.position.y]).sort();
        const wanted = pivots.map(r => [+r[head.indexOf(`x_${travel}_mm`)], +r[head.indexOf(`z_${travel}_mm`)]]).sort();
        assert.deepEqual(points, wanted, `${candidate} at ${travel}`);
        for (const body of new Set(pivots.flatMap(r => r[1].split("+")))) {
          const layer = body.toUpperCase() + suffix;
          assert.ok(drawing.tables.layer.layers[layer], "no layer " + layer);
          assert.ok(on(layer, "LINE").length > 0, "nothing on layer " + layer);
        }
      }
      assert.equal(on("AXLE_PATH", "LWPOLYLINE")[0].vertices.length, 33);
      assert.equal(on("WHEEL", "CIRCLE").length, 1);
    }
  });
});
