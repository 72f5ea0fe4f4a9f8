// The tables as hyparquet reads them: counts agree, rows join, no NaN, and the footer tells what each
// column is.
import assert from "node:assert/strict";
import {describe, test} from "node:test";
import {folder} from "./browser.mjs";
import {footer, readTable} from "./tables.mjs";

const skip = !folder ? "FORKFRONT_RESULTS is not set" : false;

describe("the tables", {skip}, () => {
  for (const name of ["front", "curves", "history"]) {
    test(name + ".parquet has a dictionary of its columns and no NaN", async () => {
      const {metadata, rows} = await readTable(`${folder}/${name}.parquet`);
      assert.equal(rows.length, Number(metadata.num_rows));
      assert.ok(rows.length > 0);
      const known = footer(metadata), dictionary = JSON.parse(known["forkfront.columns"]);
      assert.deepEqual(dictionary.map(c => c.name), metadata.schema.slice(1).map(s => s.name));
      assert.ok(+known["forkfront.schema_version"] >= 1);
      const units = JSON.parse(known.PANDAS_ATTRS).units;
      for (const c of dictionary) {
        assert.equal(units[c.name] ?? "", c.unit ?? "");
        for (const row of rows) {
          const v = row[c.name];
          assert.ok(v !== null && v !== undefined || c.optional, `NULL in ${c.name}`);
          assert.ok(typeof v !== "number" || Number.isFinite(v), `${v} in ${c.name}`);
        }
      }
    });
  }

  test("every candidate has its curves", async () => {
    const {rows: front} = await readTable(folder + "/front.parquet");
    const {rows: curves} = await readTable(folder + "/curves.parquet");
    const count = new Map();
    for (const r of curves) count.set(r.candidate, (count.get(r.candidate) ?? 0) + 1);
    for (const r of front) assert.equal(count.get(r.candidate), 33, r.candidate);
    assert.equal(count.size, front.length);
  });
});
