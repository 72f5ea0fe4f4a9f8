// Small tools for pictures.
function el(parent, tag, attributes, text) {
  const e = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const k in attributes) e.setAttribute(k, attributes[k]);
  if (text !== undefined) e.textContent = text;
  if (parent) parent.append(e);
  return e;
}

function html(parent, tag, attributes, text) {
  const e = document.createElement(tag);
  for (const k in attributes) e.setAttribute(k, attributes[k]);
  if (text !== undefined) e.textContent = text;
  if (parent) parent.append(e);
  return e;
}

// canvas gives a cleared drawing surface of so many CSS pixels, sharp on dense screens.
function surface(canvas, width, tall) {
  const dense = Math.min(window.devicePixelRatio || 1, 2);
  canvas.width = Math.round(width * dense);
  canvas.height = Math.round(tall * dense);
  canvas.style.width = width + "px";
  canvas.style.height = tall + "px";
  const g = canvas.getContext("2d");
  g.scale(dense, dense);
  return g;
}

// soon lets a picture be drawn once a frame however often it is asked for.
function soon(f) {
  let waiting = false;
  return () => { if (!waiting) { waiting = true; requestAnimationFrame(() => { waiting = false; f(); }); } };
}

// mixed goes through all rows in an order that mixes the cases, so that none lies on top of the others:
// steps of about 0.618 of them, which share no factor with their number.
let stride = 0;
function mixed(i) {
  const n = D.ids.length, shares = (a, b) => b ? shares(b, a % b) : a > 1;
  if (!stride) for (stride = Math.max(1, Math.round(n * 0.618)); shares(stride, n); ) stride++;
  return i * stride % n;
}

// kinds are what colours and marks tell apart: cases, or, where there are more of these than colours,
// mechanisms.
let kindNames = [], kindOfCase = [];
function findKinds() {
  const many = D.cases.length > caseColours.length && D.cases.every(c => c.mechanism);
  const names = D.cases.map(c => many ? c.mechanism : c.name);
  kindNames = [...new Set(names)];
  kindOfCase = names.map(n => kindNames.indexOf(n));
}
const kindOf = row => kindOfCase[D.case[row]];
const colourOf = row => caseColours[kindOf(row) % caseColours.length];

// shape draws the mark of a case, so that colour is not all that tells cases apart.
function shape(g, kind, x, y, r) {
  g.beginPath();
  if (kind % 3 === 0) g.arc(x, y, r, 0, 7);
  else if (kind % 3 === 1) g.rect(x - r * 0.9, y - r * 0.9, r * 1.8, r * 1.8);
  else { g.moveTo(x, y - r * 1.2); g.lineTo(x + r * 1.1, y + r * 0.8); g.lineTo(x - r * 1.1, y + r * 0.8); g.closePath(); }
}

// place keeps a pointer's position in the pixels of an element.
function place(e, of) {
  const box = of.getBoundingClientRect();
  return [e.clientX - box.left, e.clientY - box.top];
}
