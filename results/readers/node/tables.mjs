// Tables as hyparquet reads them.
import {asyncBufferFromFile, parquetMetadataAsync, parquetReadObjects} from "hyparquet";
import {compressors} from "hyparquet-compressors";

export async function readTable(path) {
  const file = await asyncBufferFromFile(path);
  const metadata = await parquetMetadataAsync(file);
  return {metadata, rows: await parquetReadObjects({file, metadata, compressors})};
}

export const footer = metadata => Object.fromEntries(metadata.key_value_metadata.map(({key, value}) => [key, value]));

const prime = 0x100000001b3n, start = 0xcbf29ce484222325n, word = (1n << 64n) - 1n;
const eight = new DataView(new ArrayBuffer(8)), utf8 = new TextEncoder();

// bytesOf a value: 8 bytes, least first, of a number; UTF-8 of text. A 0 or 1 before them tells NULL
// from a value.
function bytesOf(v) {
  if (v === null || v === undefined) return [0];
  if (typeof v === "string") return [1, ...utf8.encode(v)];
  if (typeof v === "boolean") return [1, v ? 1 : 0];
  if (typeof v === "bigint") eight.setBigInt64(0, v, true); else eight.setFloat64(0, v, true);
  return [1, ...new Uint8Array(eight.buffer)];
}

// summary counts the rows of a table and, of every column, its NULLs and the FNV-1a hash (64 bits)
// over all values.
export function summary({metadata, rows}) {
  const columns = {};
  for (const {name} of metadata.schema.slice(1)) {
    let sum = start, nulls = 0;
    for (const row of rows) {
      if (row[name] === null || row[name] === undefined) nulls++;
      for (const b of bytesOf(row[name])) sum = ((sum ^ BigInt(b)) * prime) & word;
    }
    columns[name] = {nulls, sum: sum.toString(16).padStart(16, "0")};
  }
  return {rows: rows.length, columns};
}
