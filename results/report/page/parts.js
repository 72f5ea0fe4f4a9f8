// What a chosen fork is made of: where its parts come closest, what they weigh, and which pivots have to
// be made most exactly.
function fold(card, title, open) {
  const d = html(card, "details", open ? {open: ""} : {});
  html(d, "summary", {}, title);
  return d;
}

const valueOf = (row, name) => { const c = D.columns.find(c => c.name === name); return c ? c.values[row] : NaN; };

// drawClosest names the closest pair, and the next ones where the page has them.
function drawClosest(card, row) {
  const gap = valueOf(row, "clearance_mm"), pick = D.picks.find(p => p.row === row && p.gaps);
  if (Number.isNaN(gap) || D.closest[row] < 0) return;
  const hub = valueOf(row, "hub_clearance_mm"), d = fold(card, `Clearance ${say(gap, 3)} mm` + (Number.isNaN(hub) ? "" : `, to hub and rotor ${say(hub, 3)} mm`), true);
  const gaps = pick ? pick.gaps : [{pair: D.pairs[D.closest[row]], gap_mm: gap, travel_mm: valueOf(row, "clearance_travel_mm"), steer_deg: valueOf(row, "clearance_steer_deg")}];
  const t = html(html(d, "div", {class: "scroll"}), "table", {class: "tight"}), head = html(html(t, "thead"), "tr"), body = html(t, "tbody");
  for (const [k, name] of ["between", "gap, mm", "travel, mm", "steering, deg"].entries()) html(head, "th", {scope: "col", class: k ? "narrow" : "narrow left"}, name);
  for (const g of gaps) {
    const tr = html(body, "tr");
    html(tr, "th", {scope: "row", class: "wrap"}, g.pair.replaceAll("_", " "));
    for (const v of [g.gap_mm, g.travel_mm, g.steer_deg]) html(tr, "td", {}, say(v, 3));
  }
  if (!pick) html(d, "p", {class: "small"}, "The closest pair. For the others, run forkfront score on the concept from forkfront extract.");
}

// drawMasses lists the parts, the heaviest first.
function drawMasses(card, row) {
  const parts = motion(row).parts.filter(p => p.mass > 0).sort((a, b) => b.mass - a.mass);
  if (!parts.length) return;
  const sum = parts.reduce((s, p) => s + p.mass, 0), d = fold(card, `Mass ${say(sum)} g by part`, false);
  const t = html(html(d, "div", {class: "scroll"}), "table", {class: "tight"}), body = html(t, "tbody");
  for (const p of parts) {
    const tr = html(body, "tr");
    html(tr, "th", {scope: "row", class: "wrap"}, p.name.replaceAll("_", " "));
    html(html(tr, "td", {class: "amount"}), "span", {style: `width:${(100 * p.mass / parts[0].mass).toFixed(1)}%`});
    html(tr, "td", {}, p.mass.toFixed(0) + " g");
  }
}

// drawTrades lists what a suggested candidate can gain near it, and what that costs: of each objective, the two trades
// that cost the least, as shares of the candidates' ranges.
function drawTrades(card, row) {
  const suggested = D.picks.find(p => p.row === row), pick = suggested && suggested.trades && suggested;
  if (suggested && !pick && D.picks.some(p => p.trades)) {
    html(card, "p", {class: "small"}, "No exchanges nearby are listed for this fork: either none was found, or the run did not look for them. A run looks at up to 300 forks that it suggests itself, with the preferences of the job; to include one that is preferred here, put prefer: into the job.");
  }
  if (!pick) return;
  const d = fold(card, "Nearby: what a gain costs", true), t = html(html(d, "div", {class: "scroll"}), "table", {class: "tight"});
  const head = html(html(t, "thead"), "tr"), body = html(t, "tbody");
  for (const name of ["gains", "costs", "change of variables"]) html(head, "th", {scope: "col", class: "narrow left"}, name);
  const column = k => D.columns[D.wanted[k]], room = k => { const [lo, hi] = span(D.wanted[k]); return hi - lo || 1; };
  const dear = x => (x.for / room(x.cost)) / (x.by / room(x.gain));
  const text = (k, change) => { const c = column(k), v = c.better === -1 ? -change : change; return `${c.label} ${v > 0 ? "+" : ""}${say(v, 2)}${unitOf(c)}`; };
  for (const k of D.wanted.keys()) {
    for (const x of pick.trades.filter(x => x.gain === k).sort((a, b) => dear(a) - dear(b)).slice(0, 2)) {
      const tr = html(body, "tr");
      html(tr, "th", {scope: "row", class: "wrap"}, text(x.gain, -x.by));
      html(tr, "td", {class: "left wrap"}, text(x.cost, x.for));
      html(tr, "td", {}, say(100 * x.move, 2) + " %");
    }
  }
  html(d, "p", {class: "small"}, "Scored after a move along the derivatives that leaves the other objectives no worse and all limits met; the last column is the largest change of a variable, as a share of its bounds. Larger moves cost more than in proportion.");
}

const wayNames = ["either direction", "along", "ahead"];

// drawScatter says for every measure how far it scatters with the places of the pivots, and which
// pivots that comes from.
function drawScatter(card, row) {
  const {scatters} = motion(row), names = caseOf(row).points.filter(p => p !== "root" && p !== "axle");
  const shown = D.scatters.map((s, k) => ({...s, k, deviation: valueOf(row, s.name)})).filter(s => scatters[s.k] && scatters[s.k].length === names.length && s.deviation > 0);
  if (!shown.length) return;
  const d = fold(card, "Tolerance: which pivots are critical", false);
  const t = html(html(d, "div", {class: "scroll"}), "table", {class: "tight"}), head = html(html(t, "thead"), "tr"), body = html(t, "tbody");
  for (const [name, k] of [["measure", "left"], ["scatter, ±1σ", ""], ["contributions", "left"]]) html(head, "th", {scope: "col", class: "narrow " + k}, name);
  for (const s of shown) {
    const tr = html(body, "tr"), ranked = [...scatters[s.k]].map((v, i) => ({name: names[i].replaceAll("_", " "), share: Math.floor(v / 3), way: v % 3})).sort((a, b) => b.share - a.share);
    html(tr, "th", {scope: "row", class: "wrap"}, s.label);
    html(tr, "td", {}, say(s.deviation, 2) + unitOf(s));
    html(tr, "td", {class: "why"}, ranked.filter(p => p.share >= 5).map(p => `${p.name} ${p.share} % (${wayNames[p.way]})`).join(", "));
  }
  html(d, "p", {class: "small"}, "Shares of the variance with every pivot's position varied by the job's tolerance, and the direction that contributes more: along the steering axis, or ahead of it.");
}
