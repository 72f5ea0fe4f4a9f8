// Reading what pack.go has packed.
let D = null; // the packed record
let motionAt = []; // where in its block each candidate's motion begins
const motionBlocks = new Map(); // those unpacked

function fromBase64(text) {
  if (Uint8Array.fromBase64) return Uint8Array.fromBase64(text);
  const coded = atob(text), raw = new Uint8Array(coded.length);
  for (let i = 0; i < raw.length; i++) raw[i] = coded.charCodeAt(i);
  return raw;
}

const inflated = text => new Response(new Blob([fromBase64(text)]).stream().pipeThrough(new DecompressionStream("deflate-raw")));

async function unpack() {
  D = await inflated(document.getElementById("packed").textContent).json();
  document.getElementById("packed").remove(); // it would take as much memory again
  if (!hasMotion()) return;
  let at = 0;
  motionAt = D.motion.map((n, r) => { if (r % D.block === 0) at = 0; const here = at; at += n; return here; });
}

// need unpacks the blocks that have the motions of some rows. They stand at the end of the page, after this script.
async function need(rows) {
  if (!hasMotion()) return;
  if (document.readyState === "loading") await new Promise(done => document.addEventListener("DOMContentLoaded", done));
  const packed = document.querySelectorAll(".motions");
  for (const block of new Set(rows.map(r => Math.floor(r / D.block)))) {
    if (!motionBlocks.has(block)) motionBlocks.set(block, new Uint8Array(await inflated(packed[block].textContent).arrayBuffer()));
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
    const tracks = [...readTracks(motionBlocks.get(Math.floor(row / D.block)), motionAt[row], motionAt[row] + D.motion[row])];
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
