// The chosen forks: a card each, moved by one slider.
const cards = [];

function drawCards() {
  const section = byID("chosen"), box = byID("cards");
  section.hidden = false;
  box.textContent = "";
  cards.length = 0;
  if (!S.chosen.length) html(box, "p", {}, "None is selected. Click a line or a point above, or tick a row of a table; up to four are shown side by side.");
  S.chosen.forEach((row, i) => cards.push(drawCard(box, row, i)));
  drawCompare();
  if (hasMotion()) { drawCurves(); drawEvents(); }
  moveAll();
}

function drawCard(box, row, i) {
  const card = html(box, "article", {class: "card"}), head = html(card, "div", {class: "head"}), h = html(head, "h3");
  swatch(h, i);
  h.append(`${i + 1}: ${D.ids[row]}`);
  html(head, "button", {type: "button", class: "noprint", "aria-label": "deselect " + D.ids[row]}, "×").onclick = () => choose(row);
  const pick = D.picks.find(p => p.row === row);
  if (pick) html(card, "p", {class: "small"}, pick.why);
  const out = {row, svg: null, says: null};
  if (hasMotion()) {
    const c = caseOf(row);
    out.svg = el(card, "svg", {role: "img"});
    const key = html(card, "p", {class: "small legend"});
    const entry = (style, name) => { const e = html(key, "span"); html(e, "span", {class: "swatch", style}); e.append(name); };
    c.bodies.forEach((b, k) => entry(`background:${bodyColour(c, k)}`, b.name.replaceAll("_", " ")));
    if (c.shock) entry("background:var(--shock)", c.shock_count > 1 ? "shocks" : "shock");
    entry("background:var(--path);height:3px", "axle path");
    entry("background:none;border-top:2px dashed var(--faint);height:0", "at top-out");
    out.says = html(card, "dl");
  }
  drawTrades(card, row);
  drawClosest(card, row);
  if (hasMotion()) { drawMasses(card, row); drawScatter(card, row); }
  html(card, "code", {class: "noprint"}, `forkfront extract DIR ${JSON.stringify(D.ids[row])} --as drawing`);
  return out;
}

// moveAll brings pictures, readings and cursors to the travel that is set.
const moveAll = soon(() => {
  if (!hasMotion() || !S.chosen.length) return;
  const view = extent(S.chosen), c = caseOf(S.chosen[0]), at = say(S.part * c.travel_mm, 3);
  const [from, to] = S.riding ? times(S.event) : [0, 1], says = S.riding ? `${S.time.toFixed(2)} s of ${D.ridden.events[S.event].label}` : `${at} mm of travel`;
  byID("travelsay").textContent = S.riding ? S.time.toFixed(3) + " s" : `travel ${at} mm`;
  byID("travelprint").textContent = `Side views at ${says}.`;
  byID("travel").value = Math.round(1000 * (S.riding ? (S.time - from) / (to - from) : S.part));
  byID("travel").setAttribute("aria-valuetext", says);
  if (hasRide()) byID("moved").value = S.riding ? String(S.event) : "";
  for (const card of cards) {
    drawSide(card.svg, card.row, view);
    card.says.textContent = "";
    D.curves.forEach((curve, k) => {
      const track = motion(card.row).curves[k], pair = html(card.says, "div"), ridden = ridePose(card.row);
      html(pair, "dt", {}, curve.label);
      html(pair, "dd", {}, track ? say(trackAt(track, ridden ? ridden.part : S.part)) + unitOf(curve) : "–");
    });
  }
  moveCursors();
  moveTimeCursors();
});

// baselines are the different telescopic forks of some cases, each with a name where there are several: its bike, or
// its case where one bike has several.
function baselines(cases) {
  const all = [], keys = new Set();
  for (const c of cases) {
    const key = c.baseline && JSON.stringify([c.baseline, c.sized]);
    if (!key || keys.has(key)) continue;
    keys.add(key);
    all.push(c);
  }
  const one = new Set(all.map(c => c.bike)).size === all.length;
  return all.map(c => ({bike: c.bike, values: c.baseline, sized: c.sized || {}, name: all.length === 1 ? "telescopic" : `telescopic, ${one ? c.bike : c.name}`}));
}

// bases are the telescopic forks of all cases that are not filtered out by their bike.
let allBases = null;
function bases() {
  allBases = allBases || baselines(D.cases);
  const at = F.findIndex(f => f.name === "bike"), out = S.hidden.get(at) || new Set();
  return at < 0 ? allBases : allBases.filter(b => !out.has(F[at].values.indexOf(b.bike)));
}

// drawCompare lists the measures of the chosen forks, those that some of them has, beside their telescopic ones.
function drawCompare() {
  const box = byID("compare");
  box.textContent = "";
  if (!S.chosen.length) return;
  const bases = baselines(S.chosen.map(caseOf)), t = html(box, "table"), head = html(html(t, "thead"), "tr"), body = html(t, "tbody");
  html(head, "th", {scope: "col", class: "left"}, "measure");
  for (const b of bases) html(head, "th", {scope: "col"}, b.name);
  const bikes = new Set(S.chosen.map(r => caseOf(r).bike)).size > 1;
  S.chosen.forEach((r, i) => html(head, "th", {scope: "col"}, `${i + 1}: ${[bikes && caseOf(r).bike, caseOf(r).mechanism].filter(Boolean).join(", ")}`));
  D.columns.forEach((c, col) => {
    if (c.source !== "measure" && !D.wanted.includes(col)) return;
    const values = S.chosen.map(r => c.values[r]);
    if (values.every(Number.isNaN) && !bases.some(b => c.name in b.values)) return;
    const tr = html(body, "tr");
    html(tr, "th", {scope: "row", title: c.doc}, notedTitleOf(c));
    for (const b of bases) {
      const td = html(tr, "td", {}, say(b.values[c.name]));
      if (c.name in b.sized) html(td, "small", {title: "sized by the rules for all forks, with springs and dampers assumed"}, `, sized: ${say(b.sized[c.name])}`);
    }
    const best = bestOf(c, values);
    values.forEach((v, i) => html(tr, "td", best[i] ? {class: "good"} : {}, say(v)));
  });
}

// bestOf marks the best of the chosen forks in a column, among those for the same bike: for another bike the same
// number means something else.
function bestOf(c, values) {
  const costs = values.map(v => Number.isNaN(v) ? null : cost(c, v));
  return costs.map((own, i) => {
    const rivals = costs.filter((v, k) => v !== null && caseOf(S.chosen[k]).bike === caseOf(S.chosen[i]).bike);
    return own !== null && new Set(rivals).size > 1 && own === Math.min(...rivals);
  });
}
