// Reading what pack.go has packed.
let D = null; // the packed record
let motionBytes = null, motionAt = []; // where each candidate's motion begins

async function unpack() {
  const text = atob(document.getElementById("packed").textContent.trim()), raw = new Uint8Array(text.length);
  for (let i = 0; i < raw.length; i++) raw[i] = text.charCodeAt(i);
  const stream = new Blob([raw]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const all = new Uint8Array(await new Response(stream).arrayBuffer());
  const length = new DataView(all.buffer).getUint32(0, true);
  D = JSON.parse(new TextDecoder().decode(all.subarray(4, 4 + length)));
  motionBytes = all.subarray(4 + length);
  let at = 0;
  motionAt = D.motion.map(n => { const here = at; at += n; return here; });
}

const hasMotion = () => D.motion.length > 0;
const caseOf = row => D.cases[D.case[row]];

// readTracks reads tracks: a count, then for each value how it differs from the straight line through
// the two before it.
function* readTracks(at, end) {
  const bytes = motionBytes;
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
// motion is a candidate's curves, null for one it does not have, the tracks of its points, its parts
// with their masses, and what each point adds to the scatter of each measure.
function motion(row) {
  if (!motions.has(row)) {
    const tracks = [...readTracks(motionAt[row], motionAt[row] + D.motion[row])];
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

// at reads a track between its samples; part goes from 0 at top-out to 1 at full travel.
function trackAt(track, part) {
  const x = Math.min(Math.max(part, 0), 1) * (track.length - 1), i = Math.min(Math.floor(x), track.length - 2);
  return track[i] + (track[i + 1] - track[i]) * (x - i);
}
