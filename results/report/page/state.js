// What a person has set, and what follows from it.
const S = {
  mode: "rank", axes: [], turned: new Set(), // axes that run against their usual way
  limits: new Map(), // column → [low, high], in its own unit
  pass: null, passing: 0, // candidates within all limits
  chosen: [], hover: -1, // rows
  sort: null, sortUp: true, shown: innerWidth < 640 ? 8 : 25,
  dragging: false, // a limit is being dragged
  paper: 0, // width of what is printed on; 0: a screen
  part: 0, whole: false, // travel, 0 to 1
};
const most = 4; // chosen at once
const chosenColours = ["#0d4a58", "#c2410c", "#7a3e9d", "#2f6f1f"], chosenDashes = ["", "9 4", "2 4", "9 4 2 4"];
const caseColours = ["#0072b2", "#d55e00", "#009e73", "#cc79a7", "#56b4e9", "#e69f00", "#555555"]; // distinguishable with colour vision deficiency (Okabe and Ito 2008)
const telescopicColour = "#6b7680";

const watchers = {limits: [], chosen: [], axes: [], travel: []};
const on = (what, f) => watchers[what].push(f);
const changed = what => watchers[what].forEach(f => f());

function recount() {
  const n = D.ids.length, pass = new Uint8Array(n).fill(1);
  for (const [col, [lo, hi]] of S.limits) {
    const values = D.columns[col].values;
    for (let r = 0; r < n; r++) if (values[r] === null || values[r] < lo || values[r] > hi) pass[r] = 0;
  }
  S.pass = pass;
  S.passing = pass.reduce((a, b) => a + b, 0);
}

function limit(col, lo, hi) {
  if (lo === null) S.limits.delete(col); else S.limits.set(col, lo <= hi ? [lo, hi] : [hi, lo]);
  recount();
  changed("limits");
}

// drag tells whether a limit is being dragged; when it rests, what was drawn in haste is drawn anew.
function drag(yes) {
  if (S.dragging === yes) return;
  S.dragging = yes;
  if (!yes) changed("limits");
}

function choose(row) {
  const at = S.chosen.indexOf(row);
  if (at >= 0) S.chosen.splice(at, 1);
  else { if (S.chosen.length >= most) S.chosen.shift(); S.chosen.push(row); }
  changed("chosen");
}

// upward tells whether an axis rises with its value: it does not where low is better.
const upward = col => (D.columns[col].better !== 1) !== S.turned.has(col);

// height of a value on its axis, 0 at the bottom.
function height(col, v) {
  const p = toPart(col, v, S.mode);
  return upward(col) ? p : 1 - p;
}
const fromHeight = (col, h) => fromPart(col, upward(col) ? h : 1 - h, S.mode);
