// Putting the page together.
function options(select, columns, set) {
  for (const i of columns) select.add(new Option(titleOf(D.columns[i]), i));
  if (set !== undefined) select.value = String(set);
}

function layKey() {
  const key = document.getElementById("key");
  kindNames.forEach((name, i) => {
    const s = html(key, "span"), mark = el(s, "svg", {width: 16, height: 14, "aria-hidden": "true"});
    el(mark, "path", {d: ["M8 2a5 5 0 1 0 .01 0z", "M3 2h10v10H3z", "M8 1l6 11H2z"][i % 3], fill: caseColours[i % caseColours.length]});
    s.append(" " + name);
  });
}

function layControls() {
  const all = D.columns.map((_, i) => i), $ = id => document.getElementById(id);
  options($("ax"), all, D.wanted[0] ?? 0);
  options($("ay"), all, D.wanted[1] ?? Math.min(1, all.length - 1));
  options($("addlimit"), all);
  $("ax").onchange = $("ay").onchange = layDots;
  $("mode").onchange = e => { S.mode = e.target.value; changed("axes"); };
  $("addlimit").onchange = e => { const col = +e.target.value; if (e.target.value !== "" && !S.limits.has(col)) limit(col, ...span(col)); e.target.value = ""; };
  $("clear").onclick = () => { S.limits.clear(); recount(); changed("limits"); };
  $("more").onclick = () => { S.shown += 25; drawTable(); };
  for (const i of all) {
    const l = html($("axisboxes"), "label"), box = html(l, "input", {type: "checkbox"});
    box.checked = S.axes.includes(i);
    l.append(" " + D.columns[i].label);
    box.onchange = () => { S.axes = box.checked ? [...S.axes, i] : S.axes.filter(a => a !== i); changed("axes"); };
  }
}

function layTravel() {
  const $ = id => document.getElementById(id), slider = $("travel");
  const to = part => { S.part = part; slider.value = Math.round(part * 1000); changed("travel"); };
  slider.oninput = () => { S.part = slider.value / 1000; changed("travel"); };
  for (const b of document.querySelectorAll("[data-at]")) b.onclick = () => {
    const c = S.chosen.length ? caseOf(S.chosen[0]) : {sag_mm: 0, travel_mm: 1};
    to({top: 0, sag: c.sag_mm / c.travel_mm, out: 1}[b.dataset.at]);
  };
  $("whole").onchange = e => { S.whole = e.target.checked; changed("travel"); };
  let playing = false;
  const step = now => { if (playing) { to(0.5 - 0.5 * Math.cos(now / 900)); requestAnimationFrame(step); } };
  $("play").onclick = () => {
    playing = !playing;
    $("play").setAttribute("aria-pressed", playing);
    $("play").textContent = playing ? "■ stop" : "▶ move";
    requestAnimationFrame(step);
  };
  if (!hasMotion()) for (const e of document.querySelectorAll(".travel, #curves, #chosen h3:first-of-type")) e.hidden = true;
}

// firstChosen are the balanced candidates, one of each mechanism before others, and the best in the first objective where there is but
// one case.
function firstChosen() {
  const balanced = D.picks.filter(p => p.why.includes("balanced")).map(p => p.row), seen = new Set();
  const fresh = row => { const m = caseOf(row).mechanism, first = !seen.has(m); seen.add(m); return first; };
  const news = balanced.filter(fresh), rows = [...news, ...balanced.filter(r => !news.includes(r))].slice(0, most);
  if (rows.length < 2) for (const p of D.picks) if (!rows.includes(p.row) && rows.length < 2) rows.push(p.row);
  return rows;
}

const paperWidth = 680; // CSS pixels between the margins of a sheet of A4

async function start() {
  try { await unpack(); } catch (e) {
    html(document.getElementById("front"), "p", {class: "caution"}, "This browser cannot unpack the page's data (" + e.message + "); use a browser from 2023 or later. All values are in front.parquet.");
    return;
  }
  document.getElementById("live").hidden = false;
  findKinds();
  S.axes = [...D.wanted];
  S.chosen = firstChosen();
  recount();
  layControls(); layKey(); layTravel();
  on("limits", drawLines); on("limits", drawDots); on("limits", drawTable); on("limits", drawLimits);
  on("axes", layLines); on("axes", layDots); on("axes", drawTable);
  on("chosen", drawLines); on("chosen", drawDots); on("chosen", drawTable); on("chosen", drawCards);
  on("travel", moveAll);
  layLines(); layDots(); drawTable(); drawLimits(); drawCards();
  const folded = () => document.querySelectorAll("#cards details, #trust details");
  let open = [];
  const paper = width => { S.paper = width; layLines(); layDots(); paintLines(1); paintDots(); };
  addEventListener("beforeprint", () => { open = [...folded()].filter(d => !d.open); for (const d of open) d.open = true; paper(paperWidth); });
  addEventListener("afterprint", () => { for (const d of open) d.open = false; paper(0); });
  let width = window.innerWidth;
  addEventListener("resize", soon(() => { if (window.innerWidth !== width) { width = window.innerWidth; layLines(); layDots(); } }));
  document.documentElement.dataset.ready = "yes";
}
start();
