// Reading what pack.go has packed.
let D = null; // the packed record
let motionAt = null; // where in its block each candidate's motion begins
const motionBlocks = new Map(); // those unpacked

function fromBase64(text) {
  if (Uint8Array.fromBase64) return Uint8Array.fromBase64(text);
  const coded = atob(text), raw = new Uint8Array(coded.length);
  for (let i = 0; i < raw.length; i++) raw[i] = coded.charCodeAt(i);
  return raw;
}

// inflated unpacks bytes. Its own loop over the pieces takes a third of the time of a Blob's stream and a Response.
async function inflated(text) {
  const unpacking = new DecompressionStream("deflate-raw"), writer = unpacking.writable.getWriter(), reader = unpacking.readable.getReader(), pieces = [];
  writer.write(fromBase64(text)).catch(() => {}); // what is wrong with it, the reader says
  writer.close().catch(() => {});
  let size = 0;
  for (;;) {
    const {done, value} = await reader.read();
    if (done) break;
    pieces.push(value);
    size += value.length;
  }
  const bytes = new Uint8Array(size);
  let at = 0;
  for (const piece of pieces) { bytes.set(piece, at); at += piece.length; }
  return bytes;
}

let planes = null; // the packed numbers of all columns, see values.go

async function unpack() {
  const [about, values] = ["packed", "values"].map(id => document.getElementById(id));
  D = JSON.parse(new TextDecoder().decode(await inflated(about.textContent)));
  planes = await inflated(values.textContent);
  about.remove(); values.remove(); // they would take as much memory again
  D.columns.forEach((c, col) => Object.defineProperty(c, "values", {get: () => numbers(col)}));
  layMotions();
}

// tens are the powers of ten that are exact, so that a product or quotient with one is rounded once.
const tens = Array.from({length: 23}, (_, i) => 10 ** i);
const columnNumbers = new Map();

// numbers are the values of a column, NaN where a candidate has none. They are read when first asked for.
function numbers(col) {
  if (!columnNumbers.has(col)) columnNumbers.set(col, readColumn(col));
  return columnNumbers.get(col);
}

function readColumn(col) {
  const n = D.ids.length, at = 4 * n * col, out = new Float64Array(n);
  for (let r = 0; r < n; r++) {
    const i = at + r, whole = (planes[i] | planes[i + n] << 8) << 16 >> 16, power = (planes[i + 2 * n] | planes[i + 3 * n] << 8) - 512;
    if (whole === -32768) out[r] = NaN;
    else if (power >= 0 && power < tens.length) out[r] = whole * tens[power];
    else if (power < 0 && -power < tens.length) out[r] = whole / tens[-power];
    else out[r] = Number(whole + "e" + power);
  }
  return out;
}

// motionPlace is each candidate's place among the motions: the suggested ones come first.
let motionPlace = null;
let blocksAhead = 0; // blocks that stand ahead of this script

function layMotions() {
  if (!hasMotion()) return;
  const n = D.motion.length;
  motionPlace = new Int32Array(n).fill(-1);
  motionAt = new Int32Array(n);
  let place = 0, at = 0;
  const put = row => {
    if (place % D.block === 0) at = 0;
    motionPlace[row] = place++;
    motionAt[row] = at;
    at += D.motion[row];
  };
  for (const p of D.picks) put(p.row);
  for (let r = 0; r < n; r++) if (motionPlace[r] < 0) put(r);
  blocksAhead = Math.ceil(D.picks.length / D.block);
}

const blockOf = row => Math.floor(motionPlace[row] / D.block);

// need unpacks the blocks that have the motions of some rows. Those without suggested candidates stand after this script.
async function need(rows) {
  if (!hasMotion()) return;
  const blocks = new Set(rows.map(blockOf));
  if (document.readyState === "loading" && [...blocks].some(b => b >= blocksAhead)) await new Promise(done => document.addEventListener("DOMContentLoaded", done));
  const packed = document.querySelectorAll(".motions");
  for (const block of blocks) {
    if (!motionBlocks.has(block)) motionBlocks.set(block, await inflated(packed[block].textContent));
  }
}

const hasMotion = () => D.motion.length > 0;
const caseOf = row => D.cases[D.case[row]];

// readTracks reads tracks: a count, then for each value how it differs from the straight line through
// the two before it.
function* readTracks(bytes, at, end) {
  const varint = () => {
    let v = 0, scale = 1, b;
    do { b = bytes[at++]; v += (b & 127) * scale; scale *= 128; } while (b > 127);
    return v;
  };
  while (at < end) {
    const track = new Float64Array(varint());
    let last = 0, before = 0;
    for (let i = 0; i < track.length; i++) {
      const z = varint(), d = z % 2 ? -(z + 1) / 2 : z / 2, n = d + 2 * last - before;
      before = last; last = n; track[i] = n;
    }
    yield track;
  }
}

const motions = new Map();
// motion is a candidate's, of those that were needed: its curves, null for one it does not have, the tracks of its points, its parts
// with their masses, and what each point adds to the scatter of each measure.
function motion(row) {
  if (!motions.has(row)) {
    const tracks = [...readTracks(motionBlocks.get(blockOf(row)), motionAt[row], motionAt[row] + D.motion[row])];
    const scaled = (track, step) => track.length ? track.map(v => v * step) : null;
    const curves = D.curves.map((c, i) => scaled(tracks[i], c.step));
    const places = [];
    let i = D.curves.length;
    for (const end = i + 2 * caseOf(row).points.length; i < end; i += 2) places.push([scaled(tracks[i], D.place_mm), scaled(tracks[i + 1], D.place_mm)]);
    const parts = [...tracks[i]].map((part, k) => ({name: D.parts[part], mass: tracks[i + 1][k] * D.mass_g}));
    motions.set(row, {curves, places, parts, scatters: tracks.slice(i + 2)});
  }
  return motions.get(row);
}

// trackAt reads a track between its samples, along the cubic through the four about the place (Lagrange); part goes
// from 0 at top-out to 1 at full travel.
function trackAt(track, part) {
  const n = track.length, x = Math.min(Math.max(part, 0), 1) * (n - 1);
  if (n < 4) { const i = Math.min(Math.floor(x), n - 2); return track[i] + (track[i + 1] - track[i]) * (x - i); }
  const i = Math.min(Math.max(Math.floor(x) - 1, 0), n - 4), t = x - i, [a, b, c, d] = [t, t - 1, t - 2, t - 3];
  return -track[i] * b * c * d / 6 + track[i + 1] * a * c * d / 2 - track[i + 2] * a * b * d / 2 + track[i + 3] * a * b * c / 6;
}
