// Putting the page together.
function options(select, columns, set) {
  for (const i of columns) select.add(new Option(titleOf(D.columns[i]), i));
  if (set !== undefined) select.value = String(set);
}

function layControls() {
  const all = D.columns.map((_, i) => i);
  options(byID("ax"), all, D.wanted[0] ?? 0);
  options(byID("ay"), all, D.wanted[1] ?? Math.min(1, all.length - 1));
  options(byID("addlimit"), all);
  byID("ax").onchange = byID("ay").onchange = () => { layDots(); linkSoon(); };
  byID("mode").onchange = e => { S.mode = e.target.value; changed("axes"); };
  byID("addlimit").onchange = e => { const col = +e.target.value; if (e.target.value !== "" && !S.limits.has(col)) limit(col, ...span(col)); e.target.value = ""; };
  byID("clear").onclick = () => { S.limits.clear(); S.hidden.clear(); recount(); changed("axes"); };
  byID("more").onclick = () => { S.listed += 25; drawTable(); };
  for (const i of all) {
    const l = html(byID("axisboxes"), "label"), box = html(l, "input", {type: "checkbox", "data-column": i});
    l.append(" " + D.columns[i].label);
    box.onchange = () => { S.axes = box.checked ? [...S.axes, i] : S.axes.filter(a => a !== i); changed("axes"); };
  }
}

// drawControls brings the fields to what is set.
function drawControls() {
  byID("mode").value = S.mode;
  byID("whole").checked = S.whole;
  for (const box of document.querySelectorAll("#axisboxes input")) box.checked = S.axes.includes(+box.dataset.column);
}

// layPicks puts a box before every suggested candidate, which stand in the page without a script.
function layPicks() {
  for (const tr of document.querySelectorAll("tr[data-pick]")) {
    const row = D.picks[tr.dataset.pick].row, box = html(tr.querySelector(".tick"), "input", {type: "checkbox", "aria-label": "select " + D.ids[row]});
    box.onchange = () => choose(row);
  }
}

function drawPicks() {
  for (const tr of document.querySelectorAll("tr[data-pick]")) {
    const chosen = S.chosen.includes(D.picks[tr.dataset.pick].row);
    tr.querySelector("input").checked = chosen;
    tr.classList.toggle("on", chosen);
  }
}

function layTravel() {
  const slider = byID("travel"), to = part => {
    if (S.riding) { const [from, end] = times(S.event); S.time = from + part * (end - from); } else S.part = part;
    changed("travel");
  };
  slider.oninput = () => to(slider.value / 1000);
  for (const b of document.querySelectorAll("[data-at]")) b.onclick = () => {
    const c = S.chosen.length ? caseOf(S.chosen[0]) : {sag_mm: 0, travel_mm: 1};
    S.riding = false;
    to({top: 0, sag: c.sag_mm / c.travel_mm, out: 1}[b.dataset.at]);
  };
  byID("whole").onchange = e => { S.whole = e.target.checked; changed("travel"); };
  let playing = false;
  let last = 0;
  const step = now => {
    if (!playing) return;
    if (S.riding) { // over and over
      const [from, end] = times(S.event), long = end - from;
      to(((S.time - from + (last ? now - last : 0) / 1000 * S.pace) % long) / long);
    } else to(0.5 - 0.5 * Math.cos(now / 900));
    last = now;
    requestAnimationFrame(step);
  };
  byID("play").onclick = () => {
    playing = !playing;
    last = 0;
    byID("play").setAttribute("aria-pressed", playing);
    byID("play").textContent = playing ? "■ stop" : "▶ move";
    requestAnimationFrame(step);
  };
  if (!hasMotion()) for (const e of document.querySelectorAll(".travel, #curves, #chosen h3:first-of-type")) e.hidden = true;
}

// layNav has the links within the page leave its address alone, which holds its state.
function layNav() {
  for (const a of document.querySelectorAll("nav a")) a.onclick = e => { e.preventDefault(); document.querySelector(a.getAttribute("href")).scrollIntoView(); };
}

// firstChosen are the balanced candidates, one of each mechanism before others, and the best in the first objective where there is but
// one case.
function firstChosen() {
  const balanced = D.picks.filter(p => p.why.includes("balanced")).map(p => p.row), seen = new Set();
  const fresh = row => { const m = caseOf(row).mechanism, first = !seen.has(m); seen.add(m); return first; };
  const news = balanced.filter(fresh), rows = [...news, ...balanced.filter(r => !news.includes(r))].slice(0, 2);
  if (rows.length < 2) for (const p of D.picks) if (!rows.includes(p.row) && rows.length < 2) rows.push(p.row);
  return rows;
}

const paperWidth = 680; // CSS pixels between the margins of a sheet of A4

function layPlots() { drawControls(); drawFacets(); drawKey(); layLines(); layDots(); drawTable(); drawLimits(); drawPicks(); }
function layAll() { layPlots(); drawCards(); drawTray(); }

// watch has everything follow what a person sets.
function watch() {
  on("limits", drawLines, drawDots, drawTable, drawLimits, drawFacets, linkSoon);
  on("axes", drawControls, drawFacets, drawKey, drawLimits, layLines, layDots, drawTable, linkSoon);
  on("colour", drawFacets, drawKey, drawLines, drawDots, linkSoon);
  on("chosen", drawLines, drawDots, drawTable, drawPicks, drawTray, drawCards, linkSoon);
  on("shown", drawTray, linkSoon);
  on("travel", moveAll, drawPeek, linkSoon);
  addEventListener("hashchange", async () => { if (readLink()) { await need(S.chosen); layAll(); } });
  let width = window.innerWidth;
  addEventListener("resize", soon(() => { if (window.innerWidth !== width) { width = window.innerWidth; layLines(); layDots(); } }));
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => { readTheme(); layAll(); });
}

// layPaper has what is printed be light, unfolded and as wide as a sheet.
function layPaper() {
  const folded = () => document.querySelectorAll("#cards details, #trust details");
  let open = [];
  const paper = width => {
    S.paper = width;
    document.documentElement.classList.toggle("sheet", width > 0);
    readTheme();
    layLines(); layDots(); paintLines(); paintDots();
  };
  addEventListener("beforeprint", () => { open = [...folded()].filter(d => !d.open); for (const d of open) d.open = true; paper(paperWidth); });
  addEventListener("afterprint", () => { for (const d of open) d.open = false; paper(0); });
}

async function start() {
  try { await unpack(); } catch (e) {
    html(byID("front"), "p", {class: "caution"}, "This browser cannot unpack the page's data (" + e.message + "); use a browser from 2023 or later. All values are in front.parquet.");
    return;
  }
  for (const e of document.querySelectorAll("[data-live]")) e.hidden = false;
  byID("work").classList.add("live");
  readTheme();
  findFacets();
  S.axes = [...D.wanted];
  S.chosen = firstChosen();
  S.shown = S.chosen[0] ?? -1;
  recount();
  layControls(); layFacets(); layTravel(); layTray(); layExport(); layPicks(); layNav();
  readLink();
  watch(); layPaper();
  const moving = need(S.chosen); // while the plots are drawn
  layPlots();
  await moving;
  await needTraces();
  layRide();
  drawCards(); drawTray();
  document.documentElement.dataset.ready = "yes";
}
start();
