// Two measures against each other.
const P = {left: 76, top: 14, foot: 52, width: 0, tall: 0, a: 0, b: 0, xs: [], ys: [], canvas: null, pixels: null, svg: null};
const dotX = v => { const p = toPart(P.a, v, S.mode); return P.left + P.width * (upwardDot(P.a) ? p : 1 - p); };
const dotY = v => { const p = toPart(P.b, v, S.mode); return P.top + P.tall * (1 - (upwardDot(P.b) ? p : 1 - p)); };
const upwardDot = col => !S.turned.has(col); // values rise to the right and up, as in any graph

// How far apart two points lie means something else in each mode of the axes.
const dotModes = {
  rank: "Both axes are scaled by rank: equal lengths contain equal numbers of candidates, whatever the differences between their values. “Axis scale”, above, changes that.",
  linear: "Both axes are linear.",
  log: "Both axes are logarithmic, or linear near 0 if a measure reaches 0 or below.",
};

function layDots() {
  const box = byID("dots"), room = S.paper || box.clientWidth;
  P.a = +byID("ax").value; P.b = +byID("ay").value;
  P.width = Math.min(room, 1000) - P.left - 16; P.tall = S.paper ? 320 : Math.min(400, Math.max(240, P.width * 0.62)); // on paper it fits below the axes
  box.textContent = "";
  P.canvas = html(box, "canvas", {"aria-hidden": "true"});
  P.pixels = null;
  const [ca, cb] = [D.columns[P.a], D.columns[P.b]];
  P.svg = el(box, "svg", {width: P.left + P.width + 16, height: P.top + P.tall + P.foot, role: "img", "aria-label": `${cb.label} over ${ca.label}`});
  el(P.svg, "path", {d: `M${P.left} ${P.top}V${P.top + P.tall}H${P.left + P.width}`, class: "axis", fill: "none"});
  byID("dotmode").textContent = dotModes[S.mode];
  layDotTicks();
  const wanted = c => { const way = [senseOf(c), noteOf(c)].filter(Boolean).join(", "); return titleOf(c) + (way ? ` (${way})` : ""); };
  el(P.svg, "text", {x: P.left + P.width / 2, y: P.top + P.tall + 44, "text-anchor": "middle", "font-weight": 600}, wanted(ca));
  el(P.svg, "text", {transform: `translate(15 ${P.top + P.tall / 2}) rotate(-90)`, "text-anchor": "middle", "font-weight": 600}, wanted(cb));
  P.kept = el(P.svg, "rect", {class: "kept", visibility: "hidden"});
  P.xs = parts(P.a, numbers(P.a), S.mode).map(p => P.left + P.width * (upwardDot(P.a) ? p : 1 - p)); // NaN where there is no value
  P.ys = parts(P.b, numbers(P.b), S.mode).map(p => P.top + P.tall * (1 - (upwardDot(P.b) ? p : 1 - p)));
  layDotTelescopics();
  layBox();
  drawDots();
}

function layDotTicks() {
  let last = -1e9;
  for (const v of ticks(P.a, S.mode).sort((p, q) => dotX(p) - dotX(q))) {
    const x = dotX(v);
    if (x - last < 38) continue;
    last = x;
    el(P.svg, "line", {x1: x, x2: x, y1: P.top + P.tall, y2: P.top + P.tall + 5, class: "axis"});
    el(P.svg, "text", {x, y: P.top + P.tall + 20, "text-anchor": "middle"}, say(v, 3));
  }
  last = 1e9;
  for (const v of ticks(P.b, S.mode).sort((p, q) => dotY(q) - dotY(p))) {
    const y = dotY(v);
    if (last - y < 15) continue;
    last = y;
    el(P.svg, "line", {x1: P.left - 5, x2: P.left, y1: y, y2: y, class: "axis"});
    el(P.svg, "text", {x: P.left - 8, y: y + 4, "text-anchor": "end"}, say(v, 3));
  }
}

// layBox lets a box be kept by dragging with a mouse or pen; a finger scrolls, and taps to choose.
function layBox() {
  let from = null;
  const value = ([x, y]) => {
    const p = (x - P.left) / P.width, q = 1 - (y - P.top) / P.tall;
    return [fromPart(P.a, upwardDot(P.a) ? p : 1 - p, S.mode), fromPart(P.b, upwardDot(P.b) ? q : 1 - q, S.mode)];
  };
  P.svg.addEventListener("pointerdown", e => {
    if (e.pointerType === "touch") return;
    from = place(e, P.svg);
    P.svg.setPointerCapture(e.pointerId);
    e.preventDefault();
  });
  P.svg.addEventListener("pointermove", e => {
    if (!from) return;
    const to = place(e, P.svg);
    if (Math.hypot(to[0] - from[0], to[1] - from[1]) < 5) return;
    drag(true);
    const [a, b] = [value(from), value(to)];
    S.limits.set(P.b, [Math.min(a[1], b[1]), Math.max(a[1], b[1])]);
    limit(P.a, a[0], b[0]);
  });
  P.svg.addEventListener("pointerup", e => {
    const to = place(e, P.svg), start = from || to;
    from = null;
    drag(false);
    if (Math.hypot(to[0] - start[0], to[1] - start[1]) < 5) pickDot(to);
  });
}

const drawDots = soon(() => { if (P.svg) paintDots(); });

const quickDots = 1500; // drawn while a limit is being dragged; all of them once it rests

// paintDots paints those outside the limits first, then the others in a mixed order; selected ones on top.
function paintDots() {
  const g = surface(P.canvas, P.left + P.width + 16, P.top + P.tall + P.foot);
  if (S.dragging && D.ids.length > quickDots) paintQuickDots(g); else paintAllDots(g);
  S.chosen.forEach((r, i) => {
    const x = P.xs[r], y = P.ys[r];
    if (!(x === x && y === y)) return;
    g.lineWidth = 3; g.strokeStyle = T.chosen[i]; g.fillStyle = T.card;
    g.beginPath(); g.arc(x, y, 8, 0, 7); g.fill(); g.stroke();
    g.fillStyle = T.chosen[i]; g.font = "bold 11px sans-serif"; g.textAlign = "center"; g.fillText(i + 1, x, y + 4);
  });
  const [la, lb] = [S.limits.get(P.a), S.limits.get(P.b)];
  P.kept.setAttribute("visibility", la || lb ? "visible" : "hidden");
  const xs = la ? la.map(dotX) : [P.left, P.left + P.width], ys = lb ? lb.map(dotY) : [P.top, P.top + P.tall];
  P.kept.setAttribute("x", Math.min(...xs)); P.kept.setAttribute("width", Math.max(1, Math.abs(xs[1] - xs[0])));
  P.kept.setAttribute("y", Math.min(...ys)); P.kept.setAttribute("height", Math.max(1, Math.abs(ys[1] - ys[0])));
}

const dotSize = 3.4, dotOpacity = 0.75;

function paintAllDots(g) {
  if (!P.canvas.width || !P.canvas.height) return; // the page is not laid out
  const pixels = P.pixels = P.pixels || new Pixels(P.canvas), away = rgb(T.away), kinds = T.kinds.map(rgb), n = D.ids.length;
  pixels.clear(T.paper);
  for (const passing of [0, 1]) {
    for (let i = 0; i < n; i++) {
      const r = mixed(i), x = P.xs[r], y = P.ys[r], kind = kindOf(r);
      if (S.pass[r] !== passing || !(x === x && y === y)) continue;
      if (passing) pixels.mark(kind, x, y, dotSize, kinds[kind % kindColours], dotOpacity); else pixels.mark(kind, x, y, 2.4, away, 0.2);
    }
  }
  pixels.put(g);
}

function paintQuickDots(g) {
  const n = D.ids.length, every = Math.max(1, Math.ceil(S.passing / quickDots));
  g.globalAlpha = dotOpacity;
  for (let i = 0, k = 0; i < n; i++) {
    const r = mixed(i), x = P.xs[r], y = P.ys[r];
    if (!S.pass[r] || !(x === x && y === y) || k++ % every) continue;
    g.fillStyle = T.kinds[kindOf(r) % kindColours];
    g.beginPath();
    shape(g, kindOf(r), x, y, dotSize);
    g.fill();
  }
  g.globalAlpha = 1;
}

function pickDot([x, y]) {
  let best = -1, least = 14;
  for (let r = 0; r < D.ids.length; r++) {
    const off = Math.hypot(P.xs[r] - x, P.ys[r] - y); // NaN is never less
    if (S.pass[r] && off < least) { least = off; best = r; }
  }
  if (best >= 0) choose(best);
}

// layDotTelescopics marks the telescopic fork of each bike where both measures have it within their ranges.
function layDotTelescopics() {
  for (const b of bases()) {
    const at = [P.a, P.b].map(col => b.values[D.columns[col].name]);
    if (![P.a, P.b].every((col, i) => at[i] >= span(col)[0] && at[i] <= span(col)[1])) continue;
    const g = el(P.svg, "g", {"data-telescopic": b.name});
    el(g, "path", {d: `M${dotX(at[0])} ${dotY(at[1]) - 6}l6 6-6 6-6-6z`, class: "tel"});
    el(g, "text", {x: dotX(at[0]) + 9, y: dotY(at[1]) - 6, class: "tel halo"}, b.name);
  }
}
