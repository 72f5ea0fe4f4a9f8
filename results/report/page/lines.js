// All objectives at once: parallel coordinates.
const L = {top: 0, tall: 280, gap: 0, left: 64, width: 0, base: null, live: null, svg: null};
const lineX = i => L.left + i * L.gap;
const lineY = h => L.top + L.tall * (1 - h);

function layLines() {
  const box = document.getElementById("lines"), room = S.paper || box.parentElement.clientWidth, n = S.axes.length;
  L.gap = n > 1 ? Math.max(S.paper ? 0 : 112, (room - 2 * L.left) / (n - 1)) : 0;
  L.top = S.axes.some(col => D.columns[col].note) ? 89 : 74;
  L.width = 2 * L.left + L.gap * Math.max(0, n - 1);
  document.getElementById("bandhint").hidden = !S.axes.some(col => bandOf(D.columns[col]));
  box.textContent = "";
  box.style.width = L.width + "px";
  L.base = html(box, "canvas", {"aria-hidden": "true"});
  L.live = html(box, "canvas", {"aria-hidden": "true"});
  L.svg = el(box, "svg", {width: L.width, height: L.top + L.tall + 40, role: "group", "aria-label": "axes of the parallel coordinates"});
  S.axes.forEach(layAxis);
  L.svg.addEventListener("click", pickLine);
  const g = surface(L.base, L.width, L.top + L.tall + 40);
  g.strokeStyle = "#8c979a"; g.globalAlpha = D.ids.length > 1500 ? 0.06 : 0.13;
  for (let r = 0; r < D.ids.length; r++) { g.beginPath(); trace(g, r); g.stroke(); }
  drawLines();
}

function trace(g, row) {
  let pen = false;
  S.axes.forEach((col, i) => {
    const v = D.columns[col].values[row];
    if (v === null) { pen = false; return; }
    const x = lineX(i), y = lineY(height(col, v));
    if (pen) g.lineTo(x, y); else g.moveTo(x, y);
    pen = true;
  });
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
    const label = el(g, "text", {x: x - 7, y: y + 4, "text-anchor": "end", stroke: "#fbfaf6", "stroke-width": 3, "paint-order": "stroke"}, say(v, 3));
    label.style.pointerEvents = "none";
  }
  el(g, "rect", {class: "kept", x: x - 9, width: 18, y: 0, height: 0, visibility: "hidden"});
  layBrush(g, col, x);
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

// drawLines draws at most so many lines while a limit is being dragged, and all of them once it rests.
const quickLines = 900;
const drawLines = soon(() => {
  if (!L.svg) return;
  const quick = S.dragging && S.passing > quickLines;
  paintLines(quick ? Math.ceil(S.passing / quickLines) : 1);
});

function paintLines(every) {
  const g = surface(L.live, L.width, L.top + L.tall + 40);
  g.globalAlpha = S.passing > 1500 ? 0.16 : S.passing > 200 ? 0.4 : 0.75;
  g.lineWidth = S.passing > 1500 ? 0.8 : 1.1;
  for (let i = 0, k = 0; i < D.ids.length; i++) {
    const r = mixed(i);
    if (!S.pass[r] || k++ % every) continue;
    g.strokeStyle = colourOf(r);
    g.beginPath(); trace(g, r); g.stroke();
  }
  g.globalAlpha = 1;
  S.chosen.forEach((r, i) => {
    for (const [colour, width] of [["#fff", 6], [chosenColours[i], 3]]) {
      g.strokeStyle = colour; g.lineWidth = width; g.setLineDash(width === 3 && chosenDashes[i] ? chosenDashes[i].split(" ") : []);
      g.beginPath(); trace(g, r); g.stroke();
    }
  });
  S.axes.forEach((col, i) => {
    const kept = L.svg.querySelectorAll(".kept")[i], range = S.limits.get(col);
    kept.setAttribute("visibility", range ? "visible" : "hidden");
    if (!range) return;
    const ys = range.map(v => lineY(height(col, v)));
    kept.setAttribute("y", Math.min(...ys)); kept.setAttribute("height", Math.max(2, Math.abs(ys[1] - ys[0])));
  });
}

// pickLine chooses the candidate whose line passes nearest to the click.
function pickLine(e) {
  const [x, y] = place(e, L.svg), i = Math.min(S.axes.length - 2, Math.max(0, Math.floor((x - L.left) / L.gap)));
  if (S.axes.length < 2) return;
  const along = (x - lineX(i)) / L.gap, [a, b] = [S.axes[i], S.axes[i + 1]];
  let best = -1, least = 9;
  for (let r = 0; r < D.ids.length; r++) {
    const u = D.columns[a].values[r], v = D.columns[b].values[r];
    if (!S.pass[r] || u === null || v === null) continue;
    const off = Math.abs(lineY(height(a, u)) * (1 - along) + lineY(height(b, v)) * along - y);
    if (off < least) { least = off; best = r; }
  }
  if (best >= 0) choose(best);
}
