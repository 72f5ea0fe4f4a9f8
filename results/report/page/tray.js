// The panel beside the plots: which forks are selected, what they are worth, and one of them from the side.
let peek = null;

function layTray() {
  byID("copyids").onclick = e => copy(S.chosen.map(r => D.ids[r]).join("\n"), e.target);
  byID("savecsv").onclick = () => save("selected.csv", csv(S.chosen));
  byID("copylink").onclick = e => { writeLink(); copy(location.href, e.target); };
  byID("todetails").onclick = () => byID("chosen").scrollIntoView();
  byID("peektravel").oninput = e => { S.part = e.target.value / 1000; changed("travel"); };
  if (!hasMotion()) byID("peek").hidden = true;
  byID("trayfold").open = innerWidth > 1120;
}

const swatch = (parent, i) => html(parent, "span", {class: "swatch", style: `background:${chosenColour(i)}`});

function drawTray() {
  if (!S.chosen.includes(S.shown)) S.shown = S.chosen.length ? S.chosen[S.chosen.length - 1] : -1;
  byID("tally").textContent = `${S.chosen.length} of at most ${most}`;
  const says = byID("traysays");
  says.textContent = S.chosen.length ? "Selected: " : "No fork is selected ";
  S.chosen.forEach((r, i) => { swatch(says, i); says.append(i + 1 + " "); });
  drawSwap();
  const slots = byID("slots");
  slots.textContent = "";
  if (!S.chosen.length) html(slots, "p", {class: "small"}, "Click a line, a point or a row to select a fork.");
  S.chosen.forEach((r, i) => {
    const slot = html(slots, "div", {class: "slot" + (r === S.shown ? " shown" : "")});
    const name = html(slot, "button", {type: "button", "aria-pressed": r === S.shown, title: "show this fork from the side"});
    name.style.cssText = "background:none;color:inherit";
    swatch(name, i);
    name.append(`${i + 1}: `);
    writeID(name, D.ids[r]);
    name.onclick = () => show(r);
    html(slot, "button", {type: "button", class: "drop", "aria-label": "deselect " + D.ids[r]}, "×").onclick = () => choose(r);
  });
  for (const id of ["copyids", "savecsv", "todetails"]) byID(id).disabled = !S.chosen.length;
  drawFew();
  drawPeek();
}

// drawSwap asks which fork a fifth one replaces: none is dropped unasked.
function drawSwap() {
  const box = byID("swap");
  box.textContent = "";
  box.hidden = S.waiting < 0;
  if (box.hidden) return;
  byID("trayfold").open = true;
  html(box, "p", {}, `${most} forks are selected already. Which one does ${D.ids[S.waiting]} replace?`);
  S.chosen.forEach((r, i) => { html(box, "button", {type: "button", "aria-label": "replace " + D.ids[r]}, String(i + 1)).onclick = () => swap(i); });
  html(box, "button", {type: "button"}, "none").onclick = () => swap(-1);
}

// drawFew lists the objectives of the selected forks.
function drawFew() {
  const box = byID("few");
  box.textContent = "";
  if (!S.chosen.length) return;
  const t = html(box, "table"), head = html(html(t, "thead"), "tr"), body = html(t, "tbody"), base = caseOf(S.shown).baseline || {};
  html(head, "th", {scope: "col", class: "left"}, "");
  html(head, "th", {scope: "col", title: "the telescopic fork of " + (caseOf(S.shown).bike || "the bike")}, "tel.");
  S.chosen.forEach((r, i) => html(head, "th", {scope: "col"}, String(i + 1)));
  for (const col of D.wanted) {
    const c = D.columns[col], tr = html(body, "tr"), values = S.chosen.map(r => c.values[r]), best = bestOf(c, values);
    html(tr, "th", {scope: "row", title: c.doc}, titleOf(c));
    html(tr, "td", {}, say(base[c.name], 3));
    values.forEach((v, i) => html(tr, "td", best[i] ? {style: "font-weight:700"} : {}, say(v, 3)));
  }
}

const drawPeek = soon(() => {
  const box = byID("peek");
  if (!hasMotion()) return;
  box.hidden = S.shown < 0;
  if (box.hidden) return;
  peek = peek || el(byID("peekside"), "svg", {role: "img"});
  drawSide(peek, S.shown, extent([S.shown]), 20); // a small picture
  byID("peektravel").value = Math.round(S.part * 1000);
  byID("peeksay").textContent = say(S.part * caseOf(S.shown).travel_mm, 3) + " mm";
});
