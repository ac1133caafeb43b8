"use strict";
// The surface of the roof: elevations anywhere, and sections. Facets are read from the page; all in metres.
const surface = (() => {
  const raw = JSON.parse(document.getElementById("surface").textContent);
  const sum = list => {
    const out = new Float64Array(list.length);
    let s = 0;
    list.forEach((d, i) => { s += d; out[i] = s * raw.grid; });
    return out;
  };
  const X = sum(raw.x), Y = sum(raw.y), Z = sum(raw.z), V = new Int32Array(raw.v.length);
  raw.v.reduce((last, d, i) => V[i] = last + d, 0);
  const west = X.reduce((a, b) => Math.min(a, b), Infinity), south = Y.reduce((a, b) => Math.min(a, b), Infinity);
  const east = X.reduce((a, b) => Math.max(a, b), -Infinity), north = Y.reduce((a, b) => Math.max(a, b), -Infinity);

  // corners returns the weights of a facet's corners at a place.
  const weights = (f, x, y) => {
    const a = V[3 * f], b = V[3 * f + 1], c = V[3 * f + 2];
    const d = (X[b] - X[a]) * (Y[c] - Y[a]) - (X[c] - X[a]) * (Y[b] - Y[a]);
    const q = ((x - X[a]) * (Y[c] - Y[a]) - (X[c] - X[a]) * (y - Y[a])) / d;
    const r = ((X[b] - X[a]) * (y - Y[a]) - (x - X[a]) * (Y[b] - Y[a])) / d;
    return [1 - q - r, q, r];
  };
  const height = (f, w) => w[0] * Z[V[3 * f]] + w[1] * Z[V[3 * f + 1]] + w[2] * Z[V[3 * f + 2]];

  // facet at a place, -1 where there is no roof.
  const facet = (x, y) => {
    for (let f = 0; f < V.length / 3; f++) {
      const w = weights(f, x, y);
      if (w[0] >= -1e-9 && w[1] >= -1e-9 && w[2] >= -1e-9) return f;
    }
    return -1;
  };

  // elevation at a place, null where there is no roof.
  const elevation = (x, y) => {
    const f = facet(x, y);
    return f < 0 ? null : height(f, weights(f, x, y));
  };

  // gradient of a facet, uphill: rise over run to the east and to the north.
  const gradient = f => {
    const a = V[3 * f], b = V[3 * f + 1], c = V[3 * f + 2];
    const bx = X[b] - X[a], by = Y[b] - Y[a], bz = Z[b] - Z[a], cx = X[c] - X[a], cy = Y[c] - Y[a], cz = Z[c] - Z[a], d = bx * cy - cx * by;
    return [(bz * cy - cz * by) / d, (cz * bx - bz * cx) / d];
  };

  // steepness is the class of a slope, flattest 0: an index into the fills.
  const steepness = slope => {
    const k = raw.limits.findIndex(limit => slope < limit);
    return k < 0 ? raw.limits.length : k;
  };

  // section cuts the facets along the line from p to q: pieces {s0, s1, z0, z1} by distance from p.
  const section = (p, q) => {
    const dx = q[0] - p[0], dy = q[1] - p[1], length = Math.sqrt(dx * dx + dy * dy), pieces = [];
    if (!(length > 0)) return {length: 0, pieces};
    for (let f = 0; f < V.length / 3; f++) {
      const u = weights(f, p[0], p[1]), w = weights(f, q[0], q[1]);
      let t0 = 0, t1 = 1;
      for (let k = 0; k < 3 && t0 < t1; k++) {
        const d = w[k] - u[k];
        if (d === 0) { if (u[k] < 0) t1 = -1; continue; }
        const t = -u[k] / d;
        if (d > 0) t0 = Math.max(t0, t); else t1 = Math.min(t1, t);
      }
      if (t1 - t0 < 1e-9) continue;
      const z0 = height(f, u), z1 = height(f, w);
      pieces.push({s0: t0 * length, s1: t1 * length, z0: z0 + t0 * (z1 - z0), z1: z0 + t1 * (z1 - z0)});
    }
    pieces.sort((a, b) => a.s0 - b.s0 || a.s1 - b.s1);
    return {length, pieces: pieces.filter((c, i) => i === 0 || c.s1 > pieces[i - 1].s1 + 1e-9)};
  };
  return {X, Y, Z, V, closed: raw.closed, open: raw.open, planeClass: f => raw.class.charCodeAt(f) - 48, fills: raw.steep, depths: raw.depths, colours: raw.palette,
    facet, gradient, steepness, elevation, section, west, south, east, north, units: raw.units, file: raw.file, facets: V.length / 3};
})();

// Numbers as the report writes them.
const say = {
  us: surface.units === "us",
  length(m) { return this.us ? (m / .3048).toFixed(1) + " ft" : m.toFixed(2) + " m"; },
  elevation(m) { return this.us ? (m / .3048).toFixed(2) + " ft" : m.toFixed(3) + " m"; },
  eighths(inches) {
    const n = Math.round(Math.abs(inches) * 8), part = n % 8, [a, b] = part % 4 === 0 ? [part / 4, 2] : part % 2 === 0 ? [part / 2, 4] : [part, 8];
    return (inches < 0 && n ? "-" : "") + [n >= 8 || !part ? Math.floor(n / 8) : "", part ? a + "/" + b : ""].filter(t => t !== "").join("-") + '"';
  },
  depth(m) {
    const least = this.us ? .0254 / 16 : .0005;
    if (m && Math.abs(m) < least) return this.us ? 'less than 1/8"' : "less than 1 mm";
    return this.us ? this.eighths(m / .0254) : Math.round(m * 1000) + " mm";
  },
  slope(s) { return this.us ? (s * 12).toFixed(2) + " in/ft" : (s * 100).toFixed(2) + " %"; },
};

// along returns where the line from p to q runs inside the rings of a feature: pairs of distances.
const along = (p, q, polygons) => {
  const dx = q[0] - p[0], dy = q[1] - p[1], length = Math.sqrt(dx * dx + dy * dy), cuts = [];
  for (const polygon of polygons) for (const ring of polygon) for (let i = 0; i + 1 < ring.length; i++) {
    const [ax, ay] = ring[i], [bx, by] = ring[i + 1];
    const a = dx * (ay - p[1]) - dy * (ax - p[0]), b = dx * (by - p[1]) - dy * (bx - p[0]);
    if ((a < 0) === (b < 0)) continue;
    const k = a / (a - b);
    cuts.push(((ax + k * (bx - ax) - p[0]) * dx + (ay + k * (by - ay) - p[1]) * dy) / length);
  }
  cuts.sort((a, b) => a - b);
  const inside = [];
  for (let i = 0; i + 1 < cuts.length; i += 2) {
    const from = Math.max(0, cuts[i]), to = Math.min(length, cuts[i + 1]);
    if (to > from) inside.push([from, to]);
  }
  return inside;
};

// runs joins pieces of one slope for their labels.
const runs = pieces => {
  const out = [];
  for (const c of pieces) {
    const slope = (c.z1 - c.z0) / (c.s1 - c.s0), last = out[out.length - 1];
    if (last && Math.abs(last.s1 - c.s0) < 1e-6 && Math.abs(last.slope - slope) < .004) {
      last.s1 = c.s1; last.z1 = c.z1; last.slope = (last.z1 - last.z0) / (last.s1 - last.s0);
    } else out.push({...c, slope});
  }
  return out;
};

// drawSection draws the profile from p to q with the water of ponds: [{id, level, polygons}].
const drawSection = (p, q, ponds) => {
  const cut = surface.section(p, q), box = document.getElementById("profile"), svg = document.getElementById("profile-drawing");
  const note = document.getElementById("profile-text");
  box.hidden = false;
  svg.replaceChildren();
  if (!cut.pieces.length) { note.textContent = "The line does not cross the roof."; return cut; }
  const water = ponds.flatMap(w => along(p, q, w.polygons).map(([a, b]) => ({...w, a, b})));
  const zs = cut.pieces.flatMap(c => [c.z0, c.z1]).concat(water.map(w => w.level));
  const low = zs.reduce((a, b) => Math.min(a, b)), high = Math.max(zs.reduce((a, b) => Math.max(a, b)), low + .01);
  const W = 960, H = 320, left = 90, right = 20, top = 40, bottom = 46;
  const sx = s => left + s / cut.length * (W - left - right), sy = z => H - bottom - (z - low) / (high - low) * (H - top - bottom);
  const exaggeration = ((H - top - bottom) / (high - low)) / ((W - left - right) / cut.length);
  svg.setAttribute("viewBox", `0 0 ${W} ${H}`);
  const add = (name, attributes, text) => {
    const e = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const k in attributes) e.setAttribute(k, attributes[k]);
    if (text !== undefined) e.textContent = text;
    svg.append(e);
  };
  for (const w of water) {
    const line = cut.pieces.filter(c => c.s1 > w.a && c.s0 < w.b).flatMap(c => {
      const z = s => c.z0 + (c.z1 - c.z0) * (s - c.s0) / (c.s1 - c.s0), a = Math.max(c.s0, w.a), b = Math.min(c.s1, w.b);
      return [[a, Math.min(z(a), w.level)], [b, Math.min(z(b), w.level)]];
    });
    if (!line.length) continue;
    const bed = line.map(([s, z]) => `${sx(s).toFixed(1)},${sy(z).toFixed(1)}`).join(" ");
    add("polygon", {points: `${sx(w.a)},${sy(w.level)} ${bed} ${sx(w.b)},${sy(w.level)}`, fill: surface.colours.water, "fill-opacity": .45});
    add("line", {x1: sx(w.a), x2: sx(w.b), y1: sy(w.level), y2: sy(w.level), stroke: surface.colours.water, "stroke-width": 2});
    const deepest = line.reduce((d, [, z]) => Math.max(d, w.level - z), 0);
    add("text", {x: (sx(w.a) + sx(w.b)) / 2, y: sy(w.level) - 6, "text-anchor": "middle"}, `${w.id} ${say.depth(deepest)}`);
  }
  for (const c of cut.pieces) add("line", {x1: sx(c.s0), y1: sy(c.z0), x2: sx(c.s1), y2: sy(c.z1), stroke: surface.colours.ink, "stroke-width": 3, "stroke-linecap": "round"});
  for (const r of runs(cut.pieces)) {
    if (sx(r.s1) - sx(r.s0) < 70) continue;
    const y = Math.min(Math.max(sy((r.z0 + r.z1) / 2) + 24, top), H - bottom + 14);
    const arrow = r.slope < -5e-5 ? " →" : r.slope > 5e-5 ? "← " : "";
    const text = arrow ? say.slope(Math.abs(r.slope)) : "level";
    add("text", {x: (sx(r.s0) + sx(r.s1)) / 2, y, "text-anchor": "middle"}, r.slope > 5e-5 ? arrow + text : text + arrow);
  }
  for (const z of [low, high]) {
    add("text", {x: left - 8, y: sy(z) + 4, "text-anchor": "end"}, say.elevation(z));
    add("line", {x1: left - 4, x2: W - right, y1: sy(z), y2: sy(z), stroke: "#8a8291", "stroke-dasharray": "2 4"});
  }
  add("text", {x: left, y: H - 10}, "0");
  add("text", {x: W - right, y: H - 10, "text-anchor": "end"}, say.length(cut.length));
  add("text", {x: (left + W - right) / 2, y: H - 10, "text-anchor": "middle"}, `heights drawn ${exaggeration.toFixed(exaggeration < 10 ? 1 : 0)} times larger than lengths`);
  note.textContent = `Length ${say.length(cut.length)}. From ${say.elevation(cut.pieces[0].z0)} to ${say.elevation(cut.pieces[cut.pieces.length - 1].z1)}; lowest ${say.elevation(low)}. Blue: ponds, full to their lips.`;
  return cut;
};
