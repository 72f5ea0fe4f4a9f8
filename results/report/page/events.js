// Events of the suggested forks over time, beside the telescopic fork, and the side view that plays them.
const paces = [["real time", 1], ["slow motion, 1/4", 0.25], ["slow motion, 1/20", 0.05]];
const timeCharts = [ // the last entry: from the value at the beginning on
  ["travel_mm", "travel, mm", false], ["front_load_n", "contact force at the front wheel, N", false], ["pitch_deg", "pitch from the beginning, deg, nose up", true],
  ["hand_up_m_per_s2", "hands, acceleration up, m/s²", false], ["hand_forward_m_per_s2", "hands, acceleration forward, m/s²", false],
];
let rideTracks = null; // of all forks, events and channels, one after the other
const timeCursors = [];

const hasRide = () => !!D.ridden;
const riderOf = row => hasRide() ? D.ridden.forks.findIndex(f => f.row === row) : -1;
const baseOf = row => D.ridden.forks.findIndex(f => f.row < 0 && f.case === D.case[row]);

// needTraces unpacks the traces, which stand after the script.
async function needTraces() {
  if (!hasRide() || rideTracks) return;
  if (document.readyState === "loading") await new Promise(done => document.addEventListener("DOMContentLoaded", done));
  const bytes = await inflated(byID("traces").textContent);
  rideTracks = [...readTracks(bytes, 0, bytes.length)];
}

// rideTrack is a channel of an event of a fork, null where it was not simulated.
function rideTrack(fork, event, name) {
  const {channels, events} = D.ridden, k = channels.findIndex(c => c.name === name);
  if (fork < 0 || !rideTracks) return null;
  const track = rideTracks[(fork * events.length + event) * channels.length + k];
  return track && track.length > 1 ? track.map(v => v * channels[k].step) : null;
}

// rideAt reads a channel at the time that is set.
function rideAt(fork, name) {
  const {channels, events} = D.ridden, k = channels.findIndex(c => c.name === name);
  const track = fork < 0 || !rideTracks ? null : rideTracks[(fork * events.length + S.event) * channels.length + k];
  if (!track || track.length < 2) return null;
  const x = Math.min(Math.max((S.time - events[S.event].from_s) / D.ridden.step_s, 0), track.length - 1), i = Math.min(Math.floor(x), track.length - 2);
  return (track[i] + (track[i + 1] - track[i]) * (x - i)) * channels[k].step;
}

// times are when an event begins and ends in the page, for the selected forks.
function times(event) {
  const from = D.ridden.events[event].from_s, long = Math.max(1, ...S.chosen.map(r => (rideTrack(riderOf(r), event, "travel_mm") || []).length - 1));
  return [from, from + long * D.ridden.step_s];
}

// ridePose is where a fork is in the event that is played: as pose, with the road under it. It is null where the fork is not
// played.
function ridePose(row) {
  const fork = S.riding ? riderOf(row) : -1, travel = fork < 0 ? null : rideAt(fork, "travel_mm");
  if (travel === null) return null;
  const c = caseOf(row), m = motion(row), part = Math.min(1, Math.max(0, travel / c.travel_mm)), pitch = rideAt(fork, "pitch_deg") * Math.PI / 180;
  const head = trackAt(m.curves[0], 0) - rideAt(fork, "pitch_deg"), u = rideAt(fork, "rear_travel_mm");
  const up = rideAt(fork, "rear_axle_mm") - u * Math.cos(pitch); // of the place in the frame where the rear axle is at rear travel 0
  const to = (along, ahead) => { const [x, y] = overGround(c, head, along, ahead); return [x, y + c.rear_mm - up]; };
  const at = m.places.map(([a, b]) => to(trackAt(a, part), trackAt(b, part))), axle = at[c.axle];
  const [x, z] = c.ride.roads[S.event], from = axle[0] - rideAt(fork, "front_axle_mm");
  const road = [[-1e5, 0], ...(x || []).map((v, i) => [from + 1000 * v, -1000 * z[i]]), [1e5, 0]];
  return {c, m, head, to, at, part, rear: [-u * Math.sin(pitch), -up - u * Math.cos(pitch)], road, load: rideAt(fork, "front_load_n"), travel};
}

// nearest is the point of a road that is nearest to a place.
function nearest(road, [x, y]) {
  let best = [x, 0], least = Infinity;
  for (let i = 1; i < road.length; i++) {
    const [a, b] = [road[i - 1], road[i]], [u, v] = [b[0] - a[0], b[1] - a[1]];
    const t = Math.min(1, Math.max(0, ((x - a[0]) * u + (y - a[1]) * v) / (u * u + v * v || 1))), at = [a[0] + t * u, a[1] + t * v], far = Math.hypot(x - at[0], y - at[1]);
    if (far < least) [best, least] = [at, far];
  }
  return best;
}

// drawLoad is the force of the road on the front wheel, from where they touch: 10 N to the millimetre.
function drawLoad(svg, p, view, text) {
  const axle = p.at[p.c.axle], foot = nearest(p.road, axle), far = Math.hypot(axle[0] - foot[0], axle[1] - foot[1]) || 1, [u, v] = [(axle[0] - foot[0]) / far, (axle[1] - foot[1]) / far];
  const tall = p.load / 10, at = (along, beside) => `${(foot[0] + along * u - beside * v).toFixed(1)} ${(foot[1] + along * v + beside * u).toFixed(1)}`;
  if (tall > 0) el(svg, "path", {d: `M${at(0, 0)}L${at(tall, 0)}M${at(tall - 20, 13)}L${at(tall, 0)}L${at(tall - 20, -13)}`, stroke: "var(--warn)", "stroke-width": 7, fill: "none", class: "load"});
  el(svg, "text", {x: axle[0] + text * 0.7, y: text * 1.15, style: `font-size:${text}px;fill:var(--warn)`}, p.load > 0 ? `${say(p.load, 3)} N` : "no contact");
}

function layRide() {
  for (const e of document.querySelectorAll("[data-ride]")) e.hidden = !hasRide();
  if (!hasRide()) return;
  for (const [i, e] of D.ridden.events.entries()) for (const id of ["event", "moved"]) byID(id).add(new Option(e.label, i));
  for (const [name, pace] of paces) byID("pace").add(new Option(name, pace));
  byID("event").onchange = e => ride(+e.target.value, S.riding);
  byID("moved").onchange = e => { if (e.target.value === "") { S.riding = false; changed("travel"); } else ride(+e.target.value, true); };
  byID("pace").onchange = e => { S.pace = +e.target.value; };
}

// ride sets the event, and whether the side views play it.
function ride(event, playing) {
  S.event = event;
  S.riding = playing;
  S.time = times(event)[0];
  drawEvents();
  changed("travel");
}

// drawEvents draws what is shown of an event.
function drawEvents() {
  if (!hasRide()) return;
  byID("event").value = String(S.event);
  const box = byID("timecurves"), event = D.ridden.events[S.event], riders = S.chosen.map((r, i) => ({r, i, fork: riderOf(r)})), ridden = riders.filter(x => x.fork >= 0);
  box.textContent = "";
  timeCursors.length = 0;
  byID("eventsays").textContent = `${event.label}: ${event.doc}.` + (event.doc.includes("mean of") ? " The curves show one of these: the height and speed given, or the first road." : "");
  const out = riders.filter(x => x.fork < 0).map(x => x.i + 1), count = D.ridden.forks.filter(f => f.row >= 0).length;
  byID("unridden").textContent = out.length ? `No curves of ${out.join(", ")}: the page has those of ${count} suggested forks.` : "";
  const bases = ridden.map(x => baseOf(x.r)).filter((b, i, all) => all.findIndex(o => baseKey(o) === baseKey(b)) === i);
  const shown = [...bases.map(fork => ({fork, colour: "var(--tel)", dash: "5 5", width: 2, name: "tel."})), ...ridden.map(x => ({fork: x.fork, colour: chosenColour(x.i), dash: chosenDashes[x.i], width: 2.2, name: String(x.i + 1)}))];
  for (const [name, title, relative] of timeCharts) {
    const series = [];
    for (const s of shown) {
      const y = rideTrack(s.fork, S.event, name);
      if (y) series.push({...s, y: relative ? y.map(v => v - y[0]) : y, x: Array.from(y, (_, i) => event.from_s + i * D.ridden.step_s)});
    }
    const c = plot(box, title, "time, s", series);
    if (c) timeCursors.push(c);
  }
  drawDampers(box, ridden);
  drawEventTable(shown);
  moveTimeCursors();
}

// baseKey tells telescopic forks apart that were simulated for several cases.
const baseKey = fork => { const f = D.ridden.forks[fork]; return D.cases[f.case].bike + JSON.stringify(f.values); };

// plot draws series over x. Areas lie below them.
function plot(box, title, across, series, areas = []) {
  const fig = html(box, "figure"), W = 400, H = 235, left = 54, right = 34, top = 12, foot = 40;
  html(fig, "figcaption", {}, title);
  if (!series.length) { html(fig, "p", {class: "small"}, "not available for the selected forks"); return null; }
  const svg = el(fig, "svg", {viewBox: `0 0 ${W} ${H}`, role: "img", "aria-label": `${title} over ${across} for the selected forks`});
  const ends = name => { let [a, b] = [Infinity, -Infinity]; for (const s of series) for (const v of s[name]) { if (v < a) a = v; if (v > b) b = v; } return [a, b]; };
  const [x0, x1] = ends("x");
  let [lo, hi] = ends("y");
  const room = (hi - lo) * 0.05 || Math.abs(hi) * 0.05 || 1;
  lo -= room; hi += room;
  const x = v => left + (W - left - right) * (v - x0) / (x1 - x0), y = v => top + (H - top - foot) * (hi - Math.min(Math.max(v, lo), hi)) / (hi - lo);
  const line = points => "M" + points.map(([u, v]) => `${x(u).toFixed(1)} ${y(v).toFixed(1)}`).join("L");
  for (const a of areas) el(svg, "path", {d: line(a.points) + "Z", fill: a.colour, "fill-opacity": a.opacity, stroke: a.edge || "none", "stroke-dasharray": "3 3", "data-area": a.name});
  for (const v of niceSteps(lo, hi, 5)) {
    el(svg, "line", {x1: left, x2: W - right, y1: y(v), y2: y(v), class: v === 0 ? "axis" : "line"});
    el(svg, "text", {x: left - 7, y: y(v) + 4, "text-anchor": "end"}, say(v, 4));
  }
  for (const v of niceSteps(x0, x1, 5)) {
    el(svg, "line", {x1: x(v), x2: x(v), y1: H - foot, y2: H - foot + 5, class: "axis"});
    el(svg, "text", {x: x(v), y: H - foot + 18, "text-anchor": "middle"}, say(v, 4));
  }
  el(svg, "text", {x: (left + W - right) / 2, y: H - 5, "text-anchor": "middle", class: "soft"}, across);
  el(svg, "path", {d: `M${left} ${top}V${H - foot}H${W - right}`, class: "axis", fill: "none"});
  const names = [];
  for (const s of series) {
    el(svg, "path", {d: line(Array.from(s.y, (v, i) => [s.x[i], v])), fill: "none", stroke: s.colour, "stroke-width": s.width, "stroke-dasharray": s.dash, "stroke-linejoin": "round", "data-series": s.name});
    names.push({y: y(s.y[s.y.length - 1]) + 4, colour: s.colour, name: s.name});
  }
  names.sort((a, b) => a.y - b.y).forEach((n, i) => { if (i && n.y - names[i - 1].y < 13) n.y = names[i - 1].y + 13; });
  const over = Math.max(0, names[names.length - 1].y - (H - foot));
  for (const n of names) el(svg, "text", {x: W - right + 5, y: n.y - over, style: `fill:${n.colour};font-weight:700`}, n.name);
  return {line: el(svg, "line", {y1: top, y2: H - foot, stroke: "var(--ink)", "stroke-width": 1, class: "cursor"}), x};
}

function moveTimeCursors() {
  for (const k of timeCursors) {
    k.line.style.display = S.riding ? "" : "none";
    const at = k.x(S.time); k.line.setAttribute("x1", at); k.line.setAttribute("x2", at);
  }
}

// damped are the points of a damper's force over the speed of its shaft, from rest to an end, when it is set to a coefficient: a
// straight line, or a curve whose forces are scaled until its chord at a speed has that coefficient.
function damped(curve, chord, coefficient, end) {
  if (!curve) return [[0, 0], [end, coefficient * end]];
  const at = v => {
    let i = 1;
    while (i < curve.length - 1 && v > curve[i][0]) i++;
    const [[a, fa], [b, fb]] = [curve[i - 1], curve[i]];
    return fa + (v - a) * (fb - fa) / (b - a);
  };
  const way = Math.sign(end) || 1, scale = coefficient * chord / Math.abs(at(way * chord));
  const speeds = curve.map(p => p[0]).filter(v => v * way > 0 && v * way < end * way).sort((a, b) => (a - b) * way);
  return [0, ...speeds, end].map(v => [v, scale * at(v)]);
}

// drawDampers is what the dampers of the selected forks have to deliver at the speeds that their shafts reach in all events: with
// the coefficient at sag, and from the least to the most that is needed over the travel. Behind it lies what dampers on sale
// can be set to.
function drawDampers(box, ridden) {
  const areas = [], series = [];
  let [back, far] = [0, 0];
  for (const {r, i, fork} of ridden) {
    const [sag, ...over] = D.ridden.forks[fork].needs || [], needs = over.filter(v => v !== null), q = caseOf(r).ride.rebound;
    if (!needs.length) continue;
    let [lo, hi] = [0, 0];
    for (const e of D.ridden.events.keys()) for (const v of rideTrack(fork, e, "shaft_m_per_s") || []) { lo = Math.min(lo, v); hi = Math.max(hi, v); }
    const force = (mean, v) => v * mean * (v > 0 ? 2 : 2 * q) / (1 + q), [weak, strong] = [Math.min(...needs), Math.max(...needs)];
    [back, far] = [Math.min(back, lo), Math.max(far, hi)];
    areas.push({colour: chosenColour(i), opacity: 0.16, name: `need of ${i + 1}`, points: [[0, 0], [hi, force(weak, hi)], [hi, force(strong, hi)], [0, 0], [lo, force(weak, lo)], [lo, force(strong, lo)]]});
    series.push({x: [lo, 0, hi], y: [force(sag, lo), 0, force(sag, hi)], colour: chosenColour(i), dash: chosenDashes[i], width: 2.4, name: String(i + 1)});
  }
  const {dampers: sold = [], chord_m_per_s: chord} = ridden.length ? caseOf(ridden[0].r).ride : {};
  for (const {compression: [cs, cf], rebound: [rs, rf], name, curve} of sold) {
    const side = (soft, firm, end) => [...damped(curve, chord, soft, end), ...damped(curve, chord, firm, end).reverse()];
    areas.unshift({colour: "var(--soft)", opacity: 0.07, edge: "var(--soft)", name, points: [...side(cs, cf, far), ...side(rs, rf, back)]});
  }
  const k = plot(box, "damper of each shock: force over shaft speed, N", "m/s, rebound to compression", series, areas);
  if (!k) return;
  k.line.remove();
  html(box.lastChild, "p", {class: "small"}, "Lines: needed at sag, as far as the shaft moves in the events. Shaded: from the least to the most that would be needed over the travel." + (sold.length ? ` Dashed: dampers as sold, from soft to firm (${sold.map(d => d.name).join(", ")}).` : "") + (sold.some(d => d.curve) ? ` A curve has the coefficient of the straight line that it meets at ${chord} m/s.` : ""));
}

// drawEventTable lists what an event tells of the selected forks.
function drawEventTable(shown) {
  const box = byID("eventvalues"), event = D.ridden.events[S.event], nameOf = s => s.name === "tel." ? "telescopic" : s.name;
  box.textContent = "";
  if (!shown.length) return;
  const t = html(box, "table"), head = html(html(t, "thead"), "tr"), body = html(t, "tbody");
  html(head, "th", {scope: "col", class: "left"}, event.label);
  for (const s of shown) html(head, "th", {scope: "col"}, nameOf(s));
  event.has.forEach((q, k) => {
    const {label, unit, doc} = D.ridden.quantities[q], tr = html(body, "tr");
    html(tr, "th", {scope: "row", title: doc}, label + (unit ? ", " + unit : ""));
    for (const s of shown) {
      const f = D.ridden.forks[s.fork], worse = q === D.ridden.grip && f.worse.includes(S.event);
      html(tr, "td", worse ? {class: "worse", title: "less grip than the telescopic fork"} : {}, say(f.values ? f.values[S.event][k] : null, 4) + (worse ? " worse" : ""));
    }
  });
  for (const s of shown) if (D.ridden.forks[s.fork].missing[S.event]) html(box, "p", {class: "small"}, `${nameOf(s)}: ${D.ridden.forks[s.fork].missing[S.event]}`);
}
