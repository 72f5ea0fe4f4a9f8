// From values to places on an axis, 0 to 1, rising with the value; and back.
const sortedValues = new Map();

function sorted(col) {
  if (!sortedValues.has(col)) sortedValues.set(col, numbers(col).filter(v => v === v).sort());
  return sortedValues.get(col);
}

function span(col) {
  const s = sorted(col);
  return s.length ? [s[0], s[s.length - 1]] : [0, 1];
}

// below counts the sorted values less than v.
function below(s, v) {
  let lo = 0, hi = s.length;
  while (lo < hi) { const m = (lo + hi) >> 1; if (s[m] < v) lo = m + 1; else hi = m; }
  return lo;
}

// next is a number just above v.
const next = v => v + Math.max(Math.abs(v) * 4e-16, 1e-300);

// bend is the function that a logarithmic axis is straight in. One that reaches 0 or below is bent
// by asinh, which is a logarithm far from 0 and straight near it.
function bend(col) {
  const s = sorted(col);
  if (s.length && s[0] > 0) return [Math.log, Math.exp];
  const middle = Math.max(...[0.1, 0.25, 0.5, 0.75, 0.9].map(q => Math.abs(s[Math.floor(q * (s.length - 1))] || 0))) / 20 || 1;
  return [v => Math.asinh(v / middle), u => Math.sinh(u) * middle];
}

// parts returns the places of values on an axis, NaN where there is no value.
function parts(col, values, mode) {
  const [lo, hi] = span(col), out = new Float32Array(values.length);
  if (hi <= lo) return out.map((_, i) => values[i] === values[i] ? 0.5 : NaN);
  if (mode === "rank") {
    const s = sorted(col);
    for (let i = 0; i < values.length; i++) out[i] = values[i] === values[i] ? rankPart(s, values[i]) : NaN;
    return out;
  }
  const f = mode === "log" ? bend(col)[0] : x => x, from = f(lo), room = f(hi) - from;
  for (let i = 0; i < values.length; i++) { const p = (f(values[i]) - from) / room; out[i] = p < 0 ? 0 : p > 1 ? 1 : p; }
  return out;
}

// rankPart is the rank of v among sorted values, as a share. Equal values share their middle rank, but the least and the
// largest stand at the ends.
function rankPart(s, v) {
  const n = s.length - 1, i = below(s, v);
  if (i > n) return 1;
  if (s[i] !== v) return i === 0 ? 0 : (i - 1 + (v - s[i - 1]) / (s[i] - s[i - 1])) / n;
  if (i === 0 || s[i + 1] !== v) return i / n;
  const j = below(s, next(v)) - 1;
  return j === n ? 1 : (i + j) / 2 / n;
}

const toPart = (col, v, mode) => parts(col, [v], mode)[0];

function fromPart(col, part, mode) {
  const [lo, hi] = span(col), p = Math.min(1, Math.max(0, part));
  if (mode === "rank") {
    const s = sorted(col), x = p * (s.length - 1), i = Math.min(Math.floor(x), s.length - 2);
    return s.length < 2 ? lo : s[i] + (s[i + 1] - s[i]) * (x - i);
  }
  if (mode === "log") { const [f, g] = bend(col); return g(f(lo) + (f(hi) - f(lo)) * p); }
  return lo + (hi - lo) * p;
}

// niceSteps are round numbers from lo to hi, about so many.
function niceSteps(lo, hi, about) {
  if (!(hi > lo)) return [lo];
  const raw = (hi - lo) / about, power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map(m => m * power).find(s => s >= raw * 0.999);
  const out = [];
  for (let k = Math.ceil(lo / step - 1e-9); k * step <= hi + step * 1e-9; k++) out.push(+(k * step).toPrecision(12));
  return out;
}

// ticks are the values that an axis names: round ones where they spread well, else its quarters.
function ticks(col, mode, about = 5) {
  const [lo, hi] = span(col);
  if (mode === "linear") return niceSteps(lo, hi, about);
  const quarters = [0, 0.25, 0.5, 0.75, 1].map(p => +fromPart(col, p, mode).toPrecision(3));
  return [...new Set(quarters)];
}

// say is a number as people read it.
function say(v, digits = 4) {
  if (v === null || v === undefined || Number.isNaN(v)) return "–";
  return String(+Number(v).toPrecision(digits)).replace("-", "−");
}

const unitOf = c => c.unit ? " " + c.unit : "";

// What a column is, with its unit, and which of its values are wanted.
const titleOf = c => c.label + (c.unit ? ", " + c.unit : "");
const noteOf = c => (c.note || "").replaceAll("-", "−");
const notedTitleOf = c => titleOf(c) + (c.note ? ` (${noteOf(c)})` : "");
const senseOf = c => c.better === 1 ? "low is better" : c.better === -1 ? "high is better" : "";

// bandOf is the band that is wanted of a column, where there is one and it is known.
const bandOf = c => c.aim && c.aim.wants === "band" && c.aim.low !== undefined ? [c.aim.low, c.aim.high] : null;

// cost is what a search makes small of a value: for a band the distance outside it, and more than enough
// is no better than enough. It is null where no value is better than another.
function cost(c, v) {
  const band = bandOf(c), enough = c.aim && c.aim.enough;
  if (band) return Math.max(band[0] - v, v - band[1], 0);
  if (!c.better) return null;
  return enough === undefined ? c.better * v : Math.max(c.better * v, c.better * enough);
}
