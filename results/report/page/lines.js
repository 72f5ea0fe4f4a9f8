// All objectives at once: parallel coordinates.
const L = {top: 0, tall: 280, gap: 0, left: 64, width: 0, ys: [], base: null, live: null, density: null, shown: 0, whole: false, svg: null};
const lineX = i => L.left + i * L.gap;
const lineY = h => L.top + L.tall * (1 - h);

function layLines() {
  const box = byID("lines"), room = S.paper || box.parentElement.clientWidth, n = S.axes.length;
  L.gap = n > 1 ? Math.max(S.paper ? 0 : 112, (room - 2 * L.left) / (n - 1)) : 0;
  L.top = S.axes.some(col => D.columns[col].note) ? 89 : 74;
  L.width = 2 * L.left + L.gap * Math.max(0, n - 1);
  byID("bandhint").hidden = !S.axes.some(col => bandOf(D.columns[col]));
  box.textContent = "";
  box.style.width = L.width + "px";
  L.base = html(box, "canvas", {"aria-hidden": "true"});
  L.live = html(box, "canvas", {"aria-hidden": "true"});
  L.svg = el(box, "svg", {width: L.width, height: L.top + L.tall + 40, role: "group", "aria-label": "axes of the parallel coordinates"});
  L.ys = S.axes.map(col => parts(col, numbers(col), S.mode).map(p => lineY(upward(col) ? p : 1 - p))); // NaN where there is no value
  S.axes.forEach(layAxis);
  layTelescopics();
  L.svg.addEventListener("click", pickLine);
  L.density = null; // of lines that lie elsewhere now
  drawLines();
}

function trace(g, row) {
  let pen = false;
  for (let i = 0; i < L.ys.length; i++) {
    const y = L.ys[i][row];
    if (y !== y) { pen = false; continue; }
    if (pen) g.lineTo(lineX(i), y); else g.moveTo(lineX(i), y);
    pen = true;
  }
}

function layAxis(col, i) {
  const c = D.columns[col], x = lineX(i), g = el(L.svg, "g", {"data-axis": c.name});
  const name = c.label.split(" "), half = Math.ceil(name.length / 2);
  const lines = c.label.length > 15 ? [name.slice(0, half).join(" "), name.slice(half).join(" ")] : ["", c.label];
  lines.forEach((t, k) => el(g, "text", {x, y: 14 + 15 * k, "text-anchor": "middle", "font-weight": 600}, t));
  el(g, "text", {x, y: 44, "text-anchor": "middle", class: "soft"}, [c.unit, senseOf(c)].filter(Boolean).join(", "));
  el(g, "text", {x, y: 59, "text-anchor": "middle", class: "soft"}, noteOf(c));
  const flip = el(g, "g", {class: "flip", role: "button", tabindex: 0, "aria-label": "reverse the axis " + c.label});
  el(flip, "rect", {x: x - 14, y: L.top - 26, width: 28, height: 20, fill: "transparent"});
  el(flip, "text", {x, y: L.top - 11, "text-anchor": "middle"}, "⇅");
  const turn = () => { if (!S.turned.delete(col)) S.turned.add(col); changed("axes"); };
  flip.addEventListener("click", e => { e.stopPropagation(); turn(); });
  flip.addEventListener("keydown", e => { if (e.key === "Enter" || e.key === " ") { e.preventDefault(); turn(); document.querySelector(`[data-axis="${c.name}"] .flip`).focus(); } });
  el(g, "line", {x1: x, x2: x, y1: lineY(1), y2: lineY(0), class: "axis"});
  if (bandOf(c)) {
    const ys = bandOf(c).map(v => lineY(height(col, v)));
    el(g, "rect", {x: x - 3, width: 6, y: Math.min(...ys), height: Math.max(2, Math.abs(ys[1] - ys[0])), class: "wanted"});
  }
  let lastY = 1e9;
  for (const v of ticks(col, S.mode).sort((a, b) => height(col, a) - height(col, b))) {
    const y = lineY(height(col, v));
    if (lastY - y < 14) continue;
    lastY = y;
    el(g, "line", {x1: x - 4, x2: x, y1: y, y2: y, class: "axis"});
    el(g, "text", {x: x - 7, y: y + 4, "text-anchor": "end", class: "onpaper"}, say(v, 3));
  }
  el(g, "rect", {class: "kept", x: x - 9, width: 18, y: 0, height: 0, visibility: "hidden"});
  layBrush(g, col, x);
}

// layTelescopics marks the telescopic fork of each bike on every axis that it has a value for. Beyond the end of an
// axis, an arrow and the value say where it is.
function layTelescopics() {
  for (const b of bases()) {
    S.axes.forEach((col, i) => {
      const v = b.values[D.columns[col].name];
      if (v === undefined) return;
      const [lo, hi] = span(col), x = lineX(i), y = lineY(height(col, v)), g = el(L.svg, "g", {class: "tel", "data-telescopic": D.columns[col].name});
      el(g, "title", {}, `${b.name}: ${say(v)}${unitOf(D.columns[col])}`);
      if (v >= lo && v <= hi) { el(g, "path", {d: `M${x} ${y - 5}l5 5-5 5-5-5z`, class: "tel"}); return; }
      const up = y < L.top + L.tall / 2 ? -1 : 1;
      el(g, "path", {d: `M${x - 5} ${y + up * 3}h10l-5 ${up * 8}z`, class: "tel"});
      el(g, "text", {x: x + 8, y: y + (up < 0 ? -3 : 13), class: "tel onpaper"}, say(v, 3));
    });
  }
}

const baseDash = i => [[3, 4], [9, 4], [9, 3, 2, 3]][i % 3];

// traceTelescopics draws their lines, dashed.
function traceTelescopics(g) {
  bases().forEach((b, k) => {
    let pen = false;
    g.beginPath();
    S.axes.forEach((col, i) => {
      const v = b.values[D.columns[col].name];
      if (v === undefined) { pen = false; return; }
      if (pen) g.lineTo(lineX(i), lineY(height(col, v))); else g.moveTo(lineX(i), lineY(height(col, v)));
      pen = true;
    });
    for (const [colour, width] of [[T.paper, 5], [T.tel, 2]]) {
      g.strokeStyle = colour; g.lineWidth = width; g.setLineDash(width === 2 ? baseDash(k) : []);
      g.stroke();
    }
  });
  g.setLineDash([]);
}

// layBrush lets a range of the axis be kept by dragging; a click on the axis takes the limit off.
function layBrush(g, col, x) {
  const grab = el(g, "rect", {class: "grab", x: x - 20, width: 40, y: lineY(1) - 8, height: L.tall + 16});
  let from = null;
  const part = e => Math.min(1, Math.max(0, 1 - (place(e, L.svg)[1] - L.top) / L.tall));
  grab.addEventListener("pointerdown", e => { from = part(e); grab.setPointerCapture(e.pointerId); e.preventDefault(); });
  grab.addEventListener("pointermove", e => {
    if (from === null || Math.abs(part(e) - from) * L.tall < 4) return;
    drag(true);
    limit(col, fromHeight(col, from), fromHeight(col, part(e)));
  });
  grab.addEventListener("pointerup", e => { if (Math.abs(part(e) - from) * L.tall < 4) limit(col, null); from = null; drag(false); });
  grab.addEventListener("pointercancel", () => { from = null; drag(false); });
  grab.addEventListener("click", e => e.stopPropagation());
}

const drawLines = soon(() => { if (L.svg) paintLines(); });
const linesSliceMs = 24, linesShownMs = 150;
const quickLines = 700; // drawn while a limit is being dragged; all of them once it rests

// paintLines brings the picture to the limits and colours that are set. What takes longer than a slice is continued in
// the next frame, and shown now and then; for paper it is finished at once.
function paintLines() {
  if (S.dragging && D.ids.length > quickLines) { paintQuickLines(); return; }
  const n = D.ids.length, began = performance.now(), fresh = !L.density;
  L.density = L.density || new Density(L.width, L.top + L.tall + 40, n, kindColours + 1);
  let i = 0;
  for (; i < n && (S.paper || i % 64 || performance.now() < began + linesSliceMs); i++) {
    const r = mixed(i);
    L.density.move(r, S.pass[r] ? kindOf(r) % kindColours : kindColours, traceDense);
  }
  L.whole = L.whole && !fresh;
  if (i === n || began > L.shown + linesShownMs) { composeLines(); L.shown = performance.now(); }
  if (i < n) drawLines();
  else if (!L.whole) { composeBase(); L.whole = true; }
}

function paintQuickLines() {
  const g = surface(L.live, L.width, L.top + L.tall + 40), n = D.ids.length, every = Math.max(1, Math.ceil(S.passing / quickLines));
  g.globalAlpha = 0.4; g.lineWidth = 1;
  for (let i = 0, k = 0; i < n; i++) {
    const r = mixed(i);
    if (!S.pass[r] || k++ % every) continue;
    g.strokeStyle = T.kinds[kindOf(r) % kindColours];
    g.beginPath(); trace(g, r); g.stroke();
  }
  overLines(g);
}

// traceDense adds the line of a row to a plane, or takes it away.
function traceDense(density, plane, row, sign) {
  for (let i = 1; i < L.ys.length; i++) density.line(plane, lineX(i - 1), L.ys[i - 1][row], lineX(i), L.ys[i][row], sign);
}

// composeLines shows the lines within the limits, composeBase all of them, in grey, below.
function composeLines() {
  const g = surface(L.live, L.width, L.top + L.tall + 40), [opacity, lineWidth] = S.passing > 1500 ? [0.16, 0.8] : [S.passing > 200 ? 0.4 : 0.75, 1.1];
  L.density.compose(L.live, g, T.kinds.map(rgb), opacity * lineWidth);
  overLines(g);
}

function composeBase() {
  const g = surface(L.base, L.width, L.top + L.tall + 40), away = rgb(T.away);
  L.density.compose(L.base, g, L.density.planes.map(() => away), D.ids.length > 1500 ? 0.06 : 0.13);
}

// overLines draws what lies on top of all lines, and the limits.
function overLines(g) {
  g.globalAlpha = 1;
  traceTelescopics(g);
  S.chosen.forEach((r, i) => {
    for (const [colour, width] of [[T.paper, 6], [T.chosen[i], 3]]) {
      g.strokeStyle = colour; g.lineWidth = width; g.setLineDash(width === 3 && chosenDashes[i] ? chosenDashes[i].split(" ").map(Number) : []);
      g.beginPath(); trace(g, r); g.stroke();
    }
  });
  g.setLineDash([]);
  markKept();
}

// markKept shows the limits on their axes.
function markKept() {
  S.axes.forEach((col, i) => {
    const kept = L.svg.querySelectorAll(".kept")[i], range = S.limits.get(col);
    kept.setAttribute("visibility", range ? "visible" : "hidden");
    if (!range) return;
    const ys = range.map(v => lineY(height(col, v)));
    kept.setAttribute("y", Math.min(...ys)); kept.setAttribute("height", Math.max(2, Math.abs(ys[1] - ys[0])));
  });
}

// pickLine selects the candidate whose line passes nearest to the click.
function pickLine(e) {
  const [x, y] = place(e, L.svg), i = Math.min(S.axes.length - 2, Math.max(0, Math.floor((x - L.left) / L.gap)));
  if (S.axes.length < 2) return;
  const along = (x - lineX(i)) / L.gap, a = L.ys[i], b = L.ys[i + 1];
  let best = -1, least = 9;
  for (let r = 0; r < D.ids.length; r++) {
    const off = Math.abs(a[r] * (1 - along) + b[r] * along - y); // NaN is never less
    if (S.pass[r] && off < least) { least = off; best = r; }
  }
  if (best >= 0) choose(best);
}
