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

// surface returns a cleared canvas of the given size in CSS pixels, sharp on high-density screens. One that has its size
// already keeps its memory.
function surface(canvas, width, tall) {
  const dense = Math.min(window.devicePixelRatio || 1, 2), pixels = [Math.round(width * dense), Math.round(tall * dense)], g = canvas.getContext("2d");
  if (canvas.width !== pixels[0] || canvas.height !== pixels[1]) {
    [canvas.width, canvas.height] = pixels;
    canvas.style.width = width + "px";
    canvas.style.height = tall + "px";
  }
  g.setTransform(1, 0, 0, 1, 0, 0);
  g.globalAlpha = 1;
  g.setLineDash([]);
  g.clearRect(0, 0, ...pixels);
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
  stride = stride || strideOf(D.ids.length);
  return i * stride % D.ids.length;
}

function strideOf(n) {
  const shares = (a, b) => b ? shares(b, a % b) : a > 1;
  let stride = Math.max(1, Math.round(n * 0.618));
  while (shares(stride, n)) stride++;
  return stride;
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
