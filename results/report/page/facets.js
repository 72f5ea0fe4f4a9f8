// What candidates are grouped by: bike, mechanism, shock, material, and their search. Filters and colours go by these.
let F = []; // facets, each with the values of its candidates by number

function findFacets() {
  F = D.facets.map(f => ({...f, of: Uint16Array.from(f.of)}));
  F.push({name: "case", label: "search", values: D.cases.map(c => c.name), of: Uint16Array.from(D.case)});
  const several = F.findIndex(f => f.name === "mechanism" && f.values.length > 1), any = F.findIndex(f => f.values.length > 1);
  S.colour = several >= 0 ? several : any >= 0 ? any : F.length - 1;
}

const kindOf = row => F[S.colour].of[row];

// offered are the facets that tell candidates apart; the searches only where the others do not tell them apart.
function offered() {
  const several = F.map((f, i) => i).filter(i => F[i].values.length > 1), others = several.filter(i => F[i].name !== "case");
  const apart = new Set(), whole = new Set();
  for (let r = 0; r < D.ids.length; r++) {
    let key = 0;
    for (const i of others) key = key * F[i].values.length + F[i].of[r];
    apart.add(key);
    whole.add(key * D.cases.length + D.case[r]);
  }
  return apart.size === whole.size ? others : several;
}

function layFacets() {
  const box = byID("facets"), select = byID("colour");
  for (const i of offered()) {
    const set = html(box, "fieldset");
    html(set, "legend", {}, F[i].label);
    F[i].values.forEach((value, k) => {
      const l = html(set, "label"), tick = html(l, "input", {type: "checkbox", "data-facet": i, "data-value": k});
      tick.onchange = () => filter(i, k, tick.checked);
      l.append(" " + value);
    });
  }
  box.hidden = !box.children.length;
  F.forEach((f, i) => { if (f.values.length > 1) select.add(new Option(f.label, i)); });
  select.parentElement.hidden = select.options.length < 2;
  select.onchange = e => { S.colour = +e.target.value; changed("colour"); };
}

// drawFacets brings the boxes to what is set, and greys values that no candidate within the limits has.
function drawFacets() {
  byID("colour").value = String(S.colour);
  if (S.dragging) return;
  const there = F.map(f => new Uint32Array(f.values.length));
  for (let r = 0; r < D.ids.length; r++) if (S.pass[r]) for (let i = 0; i < F.length; i++) there[i][F[i].of[r]]++;
  for (const tick of document.querySelectorAll("#facets input")) {
    const {facet, value} = tick.dataset;
    tick.checked = !(S.hidden.get(+facet) || new Set()).has(+value);
    tick.parentElement.className = tick.checked && !there[facet][value] ? "none" : "";
    tick.parentElement.title = `${there[facet][value]} candidates within the limits`;
  }
}

function drawKey() {
  const key = byID("key"), kinds = F[S.colour].values, shown = kinds.slice(0, 24);
  key.textContent = "";
  shown.forEach((name, i) => {
    const s = html(key, "span"), mark = el(s, "svg", {width: 16, height: 14, "aria-hidden": "true"});
    el(mark, "path", {d: ["M8 2a5 5 0 1 0 .01 0z", "M3 2h10v10H3z", "M8 1l6 11H2z"][i % 3], fill: `var(--k${i % kindColours})`});
    s.append(" " + name);
  });
  if (kinds.length > shown.length) html(key, "span", {}, `and ${kinds.length - shown.length} more`);
  bases().forEach((b, i) => {
    const s = html(key, "span"), mark = el(s, "svg", {width: 34, height: 14, "aria-hidden": "true"});
    el(mark, "path", {d: "M1 7h32", fill: "none", stroke: "var(--tel)", "stroke-width": 2, "stroke-dasharray": baseDash(i).join(" ")});
    s.append(" " + b.name);
  });
}
