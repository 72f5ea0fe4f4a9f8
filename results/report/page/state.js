// What a person has set, and what follows from it.
const S = {
  mode: "rank", axes: [], turned: new Set(), // axes that run against their usual way
  limits: new Map(), // column → [low, high], in its own unit
  hidden: new Map(), // facet → the values that are filtered out, by number
  colour: 0, // facet that colours and marks tell apart
  pass: null, passing: 0, // candidates within all limits and not filtered out
  chosen: [], shown: -1, waiting: -1, // rows: selected, the one in the side panel, and one for which there was no room
  sort: null, sortUp: true, listed: innerWidth < 640 ? 8 : 25,
  dragging: false, // a limit is being dragged
  paper: 0, // width of what is printed on; 0: a screen
  part: 0, whole: false, // travel, 0 to 1
  event: 0, riding: false, time: 0, pace: 1, // the event shown, whether the side views play it, where in it in s, and how fast
};

const watchers = {limits: [], chosen: [], axes: [], travel: [], colour: [], shown: []};
const on = (what, ...all) => watchers[what].push(...all);
const changed = what => watchers[what].forEach(f => f());

function recount() {
  const n = D.ids.length, pass = new Uint8Array(n).fill(1);
  for (const [col, [lo, hi]] of S.limits) {
    const values = numbers(col);
    for (let r = 0; r < n; r++) if (!(values[r] >= lo && values[r] <= hi)) pass[r] = 0;
  }
  for (const [facet, out] of S.hidden) {
    const of = F[facet].of;
    for (let r = 0; r < n; r++) if (out.has(of[r])) pass[r] = 0;
  }
  S.pass = pass;
  S.passing = pass.reduce((a, b) => a + b, 0);
}

function limit(col, lo, hi) {
  if (lo === null) S.limits.delete(col); else S.limits.set(col, lo <= hi ? [lo, hi] : [hi, lo]);
  recount();
  changed("limits");
}

// filter shows or hides the candidates that have a value of a facet.
function filter(facet, value, show) {
  const out = S.hidden.get(facet) || new Set();
  if (show) out.delete(value); else out.add(value);
  if (out.size) S.hidden.set(facet, out); else S.hidden.delete(facet);
  recount();
  changed(F[facet].name === "bike" ? "axes" : "limits"); // the axes mark the telescopic fork of each bike
}

// drag tells whether a limit is being dragged; when it rests, what was drawn in haste is drawn again.
function drag(yes) {
  if (S.dragging === yes) return;
  S.dragging = yes;
  if (!yes) changed("limits");
}

// choose selects a candidate, or deselects it. When there is no room for another, it waits until the person has said
// which one it replaces.
async function choose(row) {
  await need([row]);
  const at = S.chosen.indexOf(row);
  S.waiting = -1;
  if (at >= 0) {
    S.chosen.splice(at, 1);
    if (S.shown === row) S.shown = S.chosen.length ? S.chosen[S.chosen.length - 1] : -1;
  } else if (S.chosen.length >= most) S.waiting = row;
  else { S.chosen.push(row); S.shown = row; }
  changed("chosen");
}

// swap puts the waiting candidate in the place of the i-th selected one; −1 leaves all as they are.
function swap(i) {
  if (i >= 0) { S.chosen[i] = S.waiting; S.shown = S.waiting; }
  S.waiting = -1;
  changed("chosen");
}

function show(row) {
  S.shown = row;
  changed("shown");
}

// upward tells whether an axis rises with its value: it does not where low is better.
const upward = col => (D.columns[col].better !== 1) !== S.turned.has(col);

// height of a value on its axis, 0 at the bottom.
function height(col, v) {
  const p = toPart(col, v, S.mode);
  return upward(col) ? p : 1 - p;
}
const fromHeight = (col, h) => fromPart(col, upward(col) ? h : 1 - h, S.mode);
