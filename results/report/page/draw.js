// Small tools for pictures.
function el(parent, tag, attributes, text) {
  const e = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const k in attributes) { // colours of the style sheet work in styles only
    if (String(attributes[k]).startsWith("var(")) e.style.setProperty(k, attributes[k]); else e.setAttribute(k, attributes[k]);
  }
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

const byID = id => document.getElementById(id);

// surface returns a cleared canvas of the given size in CSS pixels, sharp on high-density screens.
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

// unhurried runs step for 0 to n − 1 in slices of a few milliseconds, one a frame, so that the page answers meanwhile;
// at once where it is to be printed. A new call with the same key ends the one before.
const running = new Map();
function unhurried(key, n, step, done) {
  const mark = {};
  running.set(key, mark);
  let i = 0;
  const slice = () => {
    if (running.get(key) !== mark) return;
    for (const until = performance.now() + 12; i < n && (S.paper || i % 64 || performance.now() < until); i++) step(i);
    if (i < n) requestAnimationFrame(slice); else if (done) done();
  };
  slice();
}

// mixed goes through all rows in an order that mixes the cases, so that none lies on top of the others:
// steps of about 0.618 of them, which share no factor with their number.
let stride = 0;
function mixed(i) {
  const n = D.ids.length, shares = (a, b) => b ? shares(b, a % b) : a > 1;
  if (!stride) for (stride = Math.max(1, Math.round(n * 0.618)); shares(stride, n); ) stride++;
  return i * stride % n;
}

// shape draws the mark of a kind, so that colour is not all that tells kinds apart.
function shape(g, kind, x, y, r) {
  if (kind % 3 === 0) { g.moveTo(x + r, y); g.arc(x, y, r, 0, 7); }
  else if (kind % 3 === 1) g.rect(x - r * 0.9, y - r * 0.9, r * 1.8, r * 1.8);
  else { g.moveTo(x, y - r * 1.2); g.lineTo(x + r * 1.1, y + r * 0.8); g.lineTo(x - r * 1.1, y + r * 0.8); g.closePath(); }
}

// place is a pointer's position in the pixels of an element.
function place(e, of) {
  const box = of.getBoundingClientRect();
  return [e.clientX - box.left, e.clientY - box.top];
}
