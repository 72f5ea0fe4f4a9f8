// The state of the page as the part of its address behind #, so that a link shows what its sender saw.
const columnNamed = name => D.columns.findIndex(c => c.name === name);

function linkText() {
  const q = new URLSearchParams(), name = col => D.columns[col].name;
  for (const r of S.chosen) q.append("fork", D.ids[r]);
  if (!S.chosen.length) q.append("fork", "");
  if (S.shown >= 0) q.append("side", D.ids[S.shown]);
  for (const [col, [lo, hi]] of S.limits) q.append("limit", `${name(col)}:${lo}:${hi}`);
  for (const [facet, out] of S.hidden) for (const value of out) q.append("hide", `${F[facet].name}:${F[facet].values[value]}`);
  q.append("colour", F[S.colour].name);
  q.append("scale", S.mode);
  if (S.axes.join() !== D.wanted.join()) q.append("axes", S.axes.map(name).join());
  if (S.turned.size) q.append("turned", [...S.turned].map(name).join());
  q.append("plane", [P.a, P.b].map(name).join());
  if (S.sort !== null) q.append("sort", `${name(S.sort)}:${S.sortUp ? "up" : "down"}`);
  if (S.part) q.append("travel", S.part.toFixed(3));
  if (S.whole) q.append("bike", "whole");
  if (hasRide() && S.event) q.append("event", D.ridden.events[S.event].name);
  if (S.riding) q.append("time", S.time.toFixed(3));
  return "#" + q;
}

let linked = "";
function writeLink() {
  if (S.dragging) return;
  linked = linkText();
  try { history.replaceState(null, "", linked); } catch { /* a browser that keeps pages from it shows them all the same */ }
}
let linkTimer = 0;
const linkSoon = () => { clearTimeout(linkTimer); linkTimer = setTimeout(writeLink, 300); };

// readLink sets what the address says. What it names and the page does not have, it leaves out.
function readLink() {
  if (!location.hash.includes("=") || location.hash === linked) return false;
  const q = new URLSearchParams(location.hash.slice(1)), columns = key => (q.get(key) || "").split(",").map(columnNamed).filter(c => c >= 0);
  const ids = new Map(D.ids.map((id, r) => [id, r])), rows = key => q.getAll(key).map(id => ids.get(id)).filter(r => r !== undefined);
  if (q.has("fork")) { S.chosen = rows("fork").slice(0, most); S.waiting = -1; }
  S.shown = rows("side")[0] ?? -1;
  S.limits.clear();
  for (const text of q.getAll("limit")) {
    const [name, lo, hi] = text.split(":"), col = columnNamed(name);
    if (col >= 0 && lo !== "" && hi !== "" && Number.isFinite(+lo) && Number.isFinite(+hi)) S.limits.set(col, [+lo, +hi]);
  }
  S.hidden.clear();
  for (const text of q.getAll("hide")) {
    const at = text.indexOf(":"), facet = F.findIndex(f => f.name === text.slice(0, at)), value = facet >= 0 ? F[facet].values.indexOf(text.slice(at + 1)) : -1;
    if (value >= 0) S.hidden.set(facet, (S.hidden.get(facet) || new Set()).add(value));
  }
  const colour = F.findIndex(f => f.name === q.get("colour"));
  if (colour >= 0) S.colour = colour;
  if (["rank", "linear", "log"].includes(q.get("scale"))) S.mode = q.get("scale");
  S.axes = columns("axes").length ? columns("axes") : [...D.wanted];
  S.turned = new Set(columns("turned"));
  const [a, b] = columns("plane");
  if (b !== undefined) { byID("ax").value = String(a); byID("ay").value = String(b); }
  const [sort, way] = (q.get("sort") || "").split(":");
  S.sort = columnNamed(sort) >= 0 ? columnNamed(sort) : null;
  S.sortUp = way !== "down";
  S.part = Math.min(1, Math.max(0, +q.get("travel") || 0));
  S.whole = q.get("bike") === "whole";
  S.event = hasRide() ? Math.max(0, D.ridden.events.findIndex(e => e.name === q.get("event"))) : 0;
  S.riding = hasRide() && q.has("time");
  S.time = Math.max(0, +q.get("time") || 0);
  recount();
  return true;
}
