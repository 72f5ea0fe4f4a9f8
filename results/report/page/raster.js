// Drawing many lines and marks into pixels. A canvas takes seconds to stroke 20,000 lines; adding up how often each
// pixel is crossed takes a tenth of one, and lets a line be taken away again.

// rgb are the three parts of a colour of the style sheet, #rgb or #rrggbb.
function rgb(colour) {
  const hex = colour.length === 4 ? [...colour.slice(1)].map(c => c + c).join("") : colour.slice(1);
  return [0, 2, 4].map(i => parseInt(hex.slice(i, i + 2), 16));
}

const fullCover = 64; // what a pixel that a line covers wholly is counted as: whole numbers add up and cancel exactly

// Density counts the lines over each pixel, in a plane for each colour. Sizes and places are in CSS pixels.
class Density {
  constructor(width, tall, rows, planes) {
    this.dense = Math.min(window.devicePixelRatio || 1, 2);
    this.width = Math.round(width * this.dense);
    this.tall = Math.round(tall * this.dense);
    this.planes = Array.from({length: planes}, () => null);
    this.of = new Int8Array(rows).fill(-1); // plane of each row's line; −1: not drawn yet
  }

  // move has a row's line be in one plane and no other.
  move(row, plane, trace) {
    const before = this.of[row];
    if (before === plane) return;
    if (before >= 0) trace(this, before, row, -1);
    trace(this, plane, row, 1);
    this.of[row] = plane;
  }

  // line adds a line from left to right, one pixel wide, to a plane: in every column of pixels it covers a length that
  // grows with its slope. Heights are counted in whole 1/65536 and, where lengths are cut at pixels, in 1/64 of a pixel.
  line(plane, x0, y0, x1, y1, sign) {
    if (!(y0 === y0 && y1 === y1)) return;
    const w = this.width, counts = this.planes[plane] = this.planes[plane] || new Int32Array(w * this.tall), d = this.dense;
    const left = Math.round(x0 * d), right = Math.min(Math.round(x1 * d), w), slope = (y1 - y0) / (x1 - x0);
    const half = Math.sqrt(1 + slope * slope) / 2 * d * fullCover | 0, rise = slope * 65536 | 0;
    for (let x = left, y = (y0 + slope * ((left + 0.5) / d - x0)) * d * 65536 | 0; x < right; x++, y += rise) {
      const from = (y >> 10) - half, to = (y >> 10) + half, first = from >> 6, last = to >> 6;
      let at = first * w + x;
      if (first === last) { counts[at] += sign * (to - from); continue; }
      counts[at] += sign * (fullCover - (from & 63));
      for (let k = first + 1; k < last; k++) { at += w; counts[at] += sign * fullCover; }
      counts[at + w] += sign * (to & 63);
    }
  }

  // compose paints the first planes in these colours, mixed where lines of several lie on each other. Where n lines of
  // opacity a do, a share (1 − a)^n of what is below still shows. It replaces what the canvas had.
  compose(canvas, g, colours, opacity) {
    const image = this.image = this.image || g.createImageData(canvas.width, canvas.height);
    const out = new Uint32Array(image.data.buffer).fill(0), most = showingMost - 1, shows = showing(opacity);
    const used = colours.map((_, k) => k).filter(k => this.planes[k]), planes = used.map(k => this.planes[k]), kinds = planes.length;
    const [reds, greens, blues] = [0, 1, 2].map(part => used.map(k => colours[k][part]));
    for (let i = 0; i < out.length; i++) {
      let n = 0, red = 0, green = 0, blue = 0;
      for (let k = 0; k < kinds; k++) {
        const c = planes[k][i];
        if (c) { n += c; red += c * reds[k]; green += c * greens[k]; blue += c * blues[k]; }
      }
      if (n) out[i] = red / n | (green / n | 0) << 8 | (blue / n | 0) << 16 | (255 * (1 - shows[n < most ? n : most])) << 24;
    }
    g.putImageData(image, 0, 0);
  }
}

const showingMost = 4096;

// showing lists how much of what is below shows through counted lines of an opacity.
const showing = opacity => Float32Array.from({length: showingMost}, (_, n) => (1 - opacity) ** (n / fullCover));

// Pixels are those of a canvas, painted over paper. Places are in CSS pixels.
class Pixels {
  constructor(canvas) {
    this.dense = canvas.width / parseFloat(canvas.style.width);
    this.width = canvas.width;
    this.tall = canvas.height;
    this.image = canvas.getContext("2d").createImageData(canvas.width, canvas.height);
    this.masks = new Map();
  }

  clear(paper) {
    this.image.data.fill(0);
    this.paper = rgb(paper);
  }

  // mark paints the mark of a kind, as draw.js has its shapes.
  mark(kind, x, y, radius, colour, opacity) {
    const px = x * this.dense, py = y * this.dense, left = Math.floor(px), top = Math.floor(py);
    const mask = this.mask(kind % 3, radius * this.dense, Math.floor(4 * (px - left)), Math.floor(4 * (py - top)));
    const data = this.image.data, size = 2 * mask.reach + 1;
    for (let j = 0; j < size; j++) {
      const line = top + j - mask.reach;
      if (line < 0 || line >= this.tall) continue;
      for (let i = 0; i < size; i++) {
        const cover = mask.cover[j * size + i] * opacity, column = left + i - mask.reach;
        if (!cover || column < 0 || column >= this.width) continue;
        const at = 4 * (line * this.width + column), bare = !data[at + 3];
        for (let k = 0; k < 3; k++) { const was = bare ? this.paper[k] : data[at + k]; data[at + k] = was + (colour[k] - was) * cover; }
        data[at + 3] = 255;
      }
    }
  }

  // mask is how far a shape covers the pixels about one, when its middle is some quarters of a pixel into that.
  mask(shape, radius, qx, qy) {
    const key = ((shape * 4 + qx) * 4 + qy) * 64 + radius;
    if (!this.masks.has(key)) this.masks.set(key, newMask(shape, radius, (qx + 0.5) / 4, (qy + 0.5) / 4));
    return this.masks.get(key);
  }

  put(g) { g.putImageData(this.image, 0, 0); }
}

const shapes = [ // circle, square, triangle: whether a place is in one of radius 1
  (x, y) => x * x + y * y < 1,
  (x, y) => Math.abs(x) < 0.9 && Math.abs(y) < 0.9,
  (x, y) => y < 0.8 && y > -1.2 && Math.abs(x) < 1.1 * (y + 1.2) / 2,
];

function newMask(shape, radius, midX, midY) {
  const reach = Math.ceil(1.3 * radius) + 1, size = 2 * reach + 1, cover = new Float32Array(size * size), fine = 4, inside = shapes[shape];
  for (let j = 0; j < size * fine; j++) {
    for (let i = 0; i < size * fine; i++) {
      const x = (i + 0.5) / fine - reach - midX, y = (j + 0.5) / fine - reach - midY;
      if (inside(x / radius, y / radius)) cover[Math.floor(j / fine) * size + Math.floor(i / fine)] += 1 / fine / fine;
    }
  }
  return {reach, cover};
}
