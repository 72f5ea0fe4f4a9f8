// Curves of the chosen forks over the travel, beside the telescopic fork.
const chartOf = ["trail_mm", "leverage_ratio", "anti_dive_pct", "wheel_force_n"];
const cursors = [];

// telescopics are the different baselines of the chosen forks, with the numbers of the forks that each belongs to.
function telescopics(k) {
  const seen = new Map();
  S.chosen.forEach((r, i) => {
    const c = caseOf(r);
    if (!c.telescopic || !c.telescopic[k].length) return;
    const key = c.telescopic[k].join();
    if (!seen.has(key)) seen.set(key, {case: c, forks: []});
    seen.get(key).forks.push(i + 1);
  });
  return [...seen.values()];
}

function drawCurves() {
  const box = byID("curves");
  box.textContent = "";
  cursors.length = 0;
  for (const name of chartOf) {
    const k = D.curves.findIndex(c => c.name === name);
    if (k >= 0) drawChart(box, k);
  }
  moveCursors();
}

// fine reads a curve at more travels than it is packed at, for a smooth line; null stays.
const fine = track => track && Array.from({length: 49}, (_, i) => trackAt(track, i / 48));

function drawChart(box, k) {
  const c = D.curves[k], series = S.chosen.map((r, i) => ({values: fine(motion(r).curves[k]), travel: caseOf(r).travel_mm, colour: chosenColour(i), dash: chosenDashes[i], width: 2.6, name: String(i + 1)})).filter(s => s.values);
  const bases = telescopics(k);
  for (const t of bases) series.unshift({values: t.case.telescopic[k], travel: t.case.travel_mm, colour: "var(--tel)", dash: "5 5", width: 2.2, name: bases.length > 1 ? "tel. " + t.forks.join() : "tel."});
  const fig = html(box, "figure"), W = 400, H = 235, left = 54, right = bases.length > 1 ? 62 : 34, top = 12, foot = 40;
  html(fig, "figcaption", {}, c.label + (c.unit ? ", " + c.unit : ""));
  if (!series.length) { html(fig, "p", {class: "small"}, "not available for the selected forks"); return; }
  const svg = el(fig, "svg", {viewBox: `0 0 ${W} ${H}`, role: "img", "aria-label": `${c.label} over travel for the selected forks and the telescopic fork`});
  const band = caseOf(S.chosen[0]).bands[k], sag = caseOf(S.chosen[0]).sag_mm;
  const all = [...series.flatMap(s => [...s.values]), ...band], far = Math.max(...series.map(s => s.travel));
  let [lo, hi] = [Math.min(...all), Math.max(...all)];
  const room = (hi - lo) * 0.05 || Math.abs(hi) * 0.05 || 1;
  lo -= room; hi += room;
  const x = t => left + (W - left - right) * t / far, y = v => top + (H - top - foot) * (hi - v) / (hi - lo);
  if (band.length) {
    el(svg, "rect", {x: left, width: W - left - right, y: y(band[1]), height: y(band[0]) - y(band[1]), class: "band"});
  }
  for (const v of niceSteps(lo, hi, 5)) {
    el(svg, "line", {x1: left, x2: W - right, y1: y(v), y2: y(v), class: v === 0 ? "axis" : "line"});
    el(svg, "text", {x: left - 7, y: y(v) + 4, "text-anchor": "end"}, say(v, 4));
  }
  for (const v of niceSteps(0, far, 5)) {
    el(svg, "line", {x1: x(v), x2: x(v), y1: H - foot, y2: H - foot + 5, class: "axis"});
    el(svg, "text", {x: x(v), y: H - foot + 18, "text-anchor": "middle"}, say(v, 4));
  }
  el(svg, "path", {d: `M${x(sag)} ${top}V${H - foot}`, stroke: "var(--faint)", "stroke-dasharray": "2 3", fill: "none"});
  el(svg, "text", {x: (left + W - right) / 2, y: H - 5, "text-anchor": "middle", class: "soft"}, "travel, mm");
  el(svg, "path", {d: `M${left} ${top}V${H - foot}H${W - right}`, class: "axis", fill: "none"});
  const names = [];
  for (const s of series) {
    const n = s.values.length - 1;
    el(svg, "path", {d: "M" + [...s.values].map((v, i) => `${x(s.travel * i / n).toFixed(1)} ${y(v).toFixed(1)}`).join("L"), fill: "none", stroke: s.colour, "stroke-width": s.width, "stroke-dasharray": s.dash, "data-series": s.name});
    names.push({y: y(s.values[n]) + 4, colour: s.colour, name: s.name});
  }
  el(svg, "text", {x: x(sag) + 4, y: H - foot - 5, class: "soft small halo"}, "sag");
  if (band.length) el(svg, "text", {x: left + 6, y: y(band[1]) + 14, class: "soft small halo"}, "target");
  // Names stand outside the data, at the ends of the curves, and apart from each other.
  names.sort((a, b) => a.y - b.y).forEach((n, i) => { if (i && n.y - names[i - 1].y < 13) n.y = names[i - 1].y + 13; });
  const over = Math.max(0, names[names.length - 1].y - (H - foot));
  for (const n of names) el(svg, "text", {x: W - right + 5, y: n.y - over, style: `fill:${n.colour};font-weight:700`}, n.name);
  cursors.push({line: el(svg, "line", {y1: top, y2: H - foot, stroke: "var(--ink)", "stroke-width": 1, class: "cursor"}), x, far});
}

function moveCursors() {
  for (const k of cursors) { const at = k.x(S.part * k.far); k.line.setAttribute("x1", at); k.line.setAttribute("x2", at); }
}
