// The candidates within the limits, as a table.

// writeID lets a narrow page break an id after its slashes, and nowhere else.
function writeID(e, id) {
  for (const piece of id.split(/(?<=\/)/)) { e.append(piece); html(e, "wbr"); }
}

function sortedRows() {
  const rows = [];
  for (let r = 0; r < D.ids.length; r++) if (S.pass[r]) rows.push(r);
  if (S.sort === null) return rows;
  const values = D.columns[S.sort].values, way = S.sortUp ? 1 : -1;
  return rows.sort((a, b) => Number.isNaN(values[a]) - Number.isNaN(values[b]) || way * (values[a] - values[b]));
}

const drawTable = soon(() => {
  if (S.dragging) return; // the rows come when it rests
  const box = byID("rows");
  box.textContent = "";
  const t = html(box, "table"), head = html(html(t, "thead"), "tr"), body = html(t, "tbody");
  html(head, "th", {scope: "col", class: "narrow"}, "selected");
  html(head, "th", {scope: "col", class: "left"}, "candidate");
  for (const col of S.axes) sortHead(head, col);
  const rows = sortedRows();
  for (const r of rows.slice(0, S.listed)) {
    const at = S.chosen.indexOf(r), tr = html(body, "tr", at >= 0 ? {class: "on"} : {});
    const check = html(html(tr, "td"), "input", {type: "checkbox", "aria-label": "select " + D.ids[r]});
    check.checked = at >= 0;
    check.onchange = async () => { await choose(r); focusRow(r); };
    check.dataset.row = r;
    writeID(html(tr, "th", {scope: "row"}), D.ids[r]);
    for (const col of S.axes) html(tr, "td", {}, say(D.columns[col].values[r]));
  }
  const more = byID("more");
  more.hidden = rows.length <= S.listed;
  more.textContent = `25 more of ${rows.length}`;
  byID("allids").textContent = byID("allids").dataset.name = `copy all ${rows.length} ids`;
});

// focusRow gives the focus back to a row's box after the table was drawn anew.
function focusRow(r) {
  requestAnimationFrame(() => requestAnimationFrame(() => {
    const box = document.querySelector(`#rows input[data-row="${r}"]`);
    if (box) box.focus();
  }));
}

function sortHead(head, col) {
  const c = D.columns[col], th = html(head, "th", {scope: "col"});
  const up = S.sort === col ? (S.sortUp ? " ↑" : " ↓") : "";
  const b = html(th, "button", {type: "button", title: c.doc}, notedTitleOf(c) + up);
  if (S.sort === col) th.setAttribute("aria-sort", S.sortUp ? "ascending" : "descending");
  b.onclick = () => {
    S.sortUp = S.sort === col ? !S.sortUp : c.better !== -1;
    S.sort = col;
    drawTable();
  };
}

// Limits as fields: what dragging does, from the keyboard too.
function drawLimits() {
  const n = D.ids.length;
  const set = S.limits.size || S.hidden.size;
  byID("count").textContent = set ? `${S.passing} of ${n} candidates are within the limits` : `${n} candidate${n === 1 ? "" : "s"}, no limits set`;
  byID("clear").disabled = !set;
  if (S.dragging) return; // fields that come and go would move the axis from under the pointer
  const box = byID("limits");
  const busy = box.contains(document.activeElement) ? document.activeElement.name : null;
  box.textContent = "";
  for (const [col, range] of S.limits) {
    const c = D.columns[col], chip = html(box, "span", {class: "limit"});
    range.forEach((v, i) => {
      if (i) html(chip, "span", {}, `≤ ${c.label} ≤`);
      const field = html(chip, "input", {type: "number", step: "any", name: c.name + i, "aria-label": `${c.label} ${i ? "at most" : "at least"}${unitOf(c)}`});
      field.value = +v.toPrecision(4);
      field.onchange = () => {
        const r = [...S.limits.get(col)];
        r[i] = field.value === "" ? span(col)[i] : +field.value;
        limit(col, r[0], r[1]);
      };
    });
    html(chip, "span", {}, c.unit);
    html(chip, "button", {type: "button", "aria-label": "no limit on " + c.label}, "×").onclick = () => limit(col, null);
  }
  if (busy) { const again = box.querySelector(`[name="${busy}"]`); if (again) again.focus(); }
  if (!S.limits.size) html(box, "span", {class: "hint"}, "Drag along an axis to set limits, or choose a measure under “limit”.");
}
