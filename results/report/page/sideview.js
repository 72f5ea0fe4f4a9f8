// The side view of a candidate, to scale: one unit of the picture is 1 mm over the ground.
const bodyColours = 6;

// ground turns a place in the fork frame into one over the ground: the frame is held by the rear
// axle and turns about it to the head angle (degrees). The picture's y points down.
function overGround(c, head, along, ahead) {
  const h = head * Math.PI / 180, cos = Math.cos(h), sin = Math.sin(h), a = along - c.rear[0], b = ahead - c.rear[1];
  return [a * cos + b * sin, -(c.rear_mm - a * sin + b * cos)];
}

// pose is where a candidate's points are at a part of the travel.
function pose(row, part) {
  const c = caseOf(row), m = motion(row), head = trackAt(m.curves[0], part);
  const to = (along, ahead) => overGround(c, head, along, ahead);
  return {c, m, head, to, at: m.places.map(([u, v]) => to(trackAt(u, part), trackAt(v, part)))};
}

// extent is the room that the chosen forks need over their whole travel, the same for all of them,
// so that they are to one scale.
function extent(rows) {
  let [x0, x1, y0] = [Infinity, -Infinity, Infinity];
  for (const row of rows) for (const part of [0, 0.5, 1]) {
    const p = pose(row, part), axle = p.at[p.c.axle];
    for (const [x, y] of [...p.at, p.to(-135, 0), p.to(0, 0)]) { x0 = Math.min(x0, x); x1 = Math.max(x1, x); y0 = Math.min(y0, y); }
    x1 = Math.max(x1, axle[0] + p.c.front_mm); x0 = Math.min(x0, axle[0] - p.c.front_mm);
    if (S.whole) x0 = Math.min(x0, -p.c.rear_mm);
  }
  const room = (x1 - x0) * 0.04;
  return [x0 - room, y0 - room, x1 - x0 + 2 * room, -y0 + room + (x1 - x0) * 0.09];
}

const mm = ([x, y]) => `${x.toFixed(2)} ${y.toFixed(2)}`;
const stroke = (points, closed) => "M" + points.map(mm).join("L") + (closed ? "Z" : "");

// coil is the zigzag of a spring between two eyes.
function coil(from, to) {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]], turns = 7, out = [from];
  const length = Math.hypot(dx, dy) || 1, side = [-dy / length * 17, dx / length * 17];
  for (let i = 0; i < 2 * turns; i++) {
    const t = 0.16 + 0.68 * (i + 0.5) / (2 * turns), s = i % 2 ? 1 : -1;
    out.push([from[0] + dx * t + side[0] * s, from[1] + dy * t + side[1] * s]);
  }
  out.push(to);
  return stroke(out);
}

// Words in a picture are as tall as a share of its width.
function drawSide(svg, row, view, words = 34) {
  const ridden = ridePose(row), p = ridden || pose(row, S.part), {c, at} = p, top = pose(row, 0), text = view[2] / words;
  svg.textContent = "";
  svg.setAttribute("viewBox", view.map(v => v.toFixed(1)).join(" "));
  svg.setAttribute("aria-label", `side view of ${D.ids[row]} at ${say(ridden ? ridden.travel : S.part * c.travel_mm, 3)} mm of travel`);
  const path = (d, a) => el(svg, "path", {d, fill: "none", "stroke-linecap": "round", "stroke-linejoin": "round", ...a});
  path(ridden ? stroke(ridden.road.filter(([x]) => Math.abs(x) === 1e5 || x > view[0] - 200 && x < view[0] + view[2] + 200)) : `M${view[0]} 0H${view[0] + view[2]}`, {stroke: "var(--soft)", "stroke-width": 2, class: "road"});
  wheel(svg, at[c.axle], c.front_mm);
  const rear = ridden ? p.to(...c.rear) : [0, -c.rear_mm];
  if (S.whole) wheel(svg, ridden ? ridden.rear : rear, c.rear_mm);
  for (const along of [-118, -22]) path(stroke([p.to(along, 0), rear]), {stroke: "var(--frame)", "stroke-width": 26});
  path(stroke([p.to(-128, 0), p.to(-6, 0)]), {stroke: "var(--tube)", "stroke-width": 46, "stroke-linecap": "butt"});
  if (ridden) drawLoad(svg, ridden, view, text); else drawTrail(svg, p, view, text);
  if (!ridden) c.bodies.forEach((b, k) => { if (!b.ground) for (const [i, j] of linksOf(row, k)) path(stroke([top.at[i], top.at[j]]), {stroke: "var(--faint)", "stroke-width": 1.6, "stroke-dasharray": "4 5"}); });
  if (c.shock) {
    const [u, l] = c.shock.map(i => at[i]);
    path(stroke([u, l]), {stroke: "var(--shock)", "stroke-width": 7});
    path(coil(u, l), {stroke: "var(--shock)", "stroke-width": 3.2, class: "coil"});
  }
  c.bodies.forEach((b, k) => {
    for (const [i, j] of linksOf(row, k)) path(stroke([at[i], at[j]]), {stroke: bodyColour(c, k), "stroke-width": b.ground ? 8 : 10, "data-body": b.name});
  });
  path(stroke(Array.from({length: 33}, (_, i) => p.to(trackAt(p.m.places[c.axle][0], i / 32), trackAt(p.m.places[c.axle][1], i / 32)))), {stroke: "var(--path)", "stroke-width": 3, class: "path"});
  at.forEach(([x, y], i) => { if (c.points[i] !== "root") el(svg, "circle", {cx: x, cy: y, r: i === c.axle ? 9 : 6.5, fill: "var(--joint)", stroke: "var(--ink)", "stroke-width": 2.5, "data-point": c.points[i]}); });
  scaleBar(svg, view, text);
}

// linksOf are the tubes of a candidate's body, from point to point.
const linksOf = (row, k) => D.tree && D.tree[row] >= 0 ? D.trees[D.tree[row]][k] : caseOf(row).bodies[k].links;

const bodyColour = (c, k) => c.bodies[k].ground ? "var(--fixed)" : `var(--b${c.bodies.slice(0, k).filter(b => !b.ground).length % bodyColours})`;

function wheel(svg, [x, y], radius) {
  el(svg, "circle", {cx: x, cy: y, r: radius - 13, fill: "var(--tyrefill)", stroke: "var(--tyre)", "stroke-width": 26});
  el(svg, "circle", {cx: x, cy: y, r: radius, fill: "none", stroke: "var(--tyreline)", "stroke-width": 2, class: "tyre"});
}

// drawTrail draws the steering axis down to the ground and the trail between it and the contact.
function drawTrail(svg, p, view, text) {
  const {c, at} = p, [fx, fy] = p.to(0, 0), h = p.head * Math.PI / 180;
  const onGround = fx - fy / Math.tan(h), contact = at[c.axle][0], above = p.to(-160, 0);
  el(svg, "path", {d: `M${mm(above)}L${onGround.toFixed(2)} 0`, stroke: "var(--soft)", "stroke-width": 1.8, "stroke-dasharray": "16 6 3 6", fill: "none"});
  el(svg, "path", {d: `M${contact.toFixed(2)} 6H${onGround.toFixed(2)}`, stroke: "var(--warn)", "stroke-width": 7, fill: "none"});
  for (const x of [contact, onGround]) el(svg, "path", {d: `M${x.toFixed(2)} -8V16`, stroke: "var(--warn)", "stroke-width": 2.4});
  el(svg, "text", {x: Math.max(onGround, contact) + text * 0.5, y: text * 1.15, "font-size": text, style: `font-size:${text}px;fill:var(--warn)`}, `trail ${say(onGround - contact, 3)} mm`);
}

function scaleBar(svg, view, text) {
  const x = view[0] + view[2] * 0.03, y = text * 1.2;
  el(svg, "path", {d: `M${x} ${y - 6}v12M${x} ${y}h100m0 -6v12`, stroke: "var(--ink)", "stroke-width": 2.4, fill: "none"});
  el(svg, "text", {x: x + 108, y: y + text * 0.35, style: `font-size:${text}px`}, "100 mm");
}
