"use strict";
// A canvas under the map's features, drawn from the surface's arrays and only again when it no longer holds what is seen. What extends it says
// which pane it lies in and paints.
const SurfaceLayer = L.Layer.extend({
  pane: "facets", height: 250, opacity: 1,
  onAdd(map) {
    const pane = map.getPane(this.pane) || map.createPane(this.pane);
    pane.style.zIndex = this.height;
    pane.style.pointerEvents = "none";
    this.canvas = document.createElement("canvas");
    this.canvas.style.opacity = this.opacity;
    pane.append(this.canvas);
    this.drawn = null;
    this.draw();
  },
  again() {
    this.drawn = null;
    this.draw();
  },
  onRemove() { this.canvas.remove(); },
  getEvents() { return {moveend: this.draw, resize: this.draw}; },
  bringToFront() {},

  draw() {
    const map = this._map, zoom = map.getZoom(), size = map.getSize(), seen = map.getPixelBounds();
    if (!size.x || this.drawn && this.drawn.zoom === zoom && this.drawn.bounds.contains(seen)) return;
    const bounds = L.bounds(seen.min.subtract(size.multiplyBy(.5)), seen.max.add(size.multiplyBy(.5)));
    const from = bounds.min, canvas = this.canvas, ratio = Math.min(2, devicePixelRatio);
    this.drawn = {zoom, bounds};
    L.DomUtil.setPosition(canvas, from.subtract(map.getPixelOrigin()));
    const {x: width, y: height} = bounds.getSize();
    canvas.width = width * ratio;
    canvas.height = height * ratio;
    canvas.style.width = width + "px";
    canvas.style.height = height + "px";
    const scale = map.options.crs.scale(zoom);
    this.paint(canvas, surface.X.map(x => (x * scale - from.x) * ratio), surface.Y.map(y => (-y * scale - from.y) * ratio));
  },
});

// The facets, each with the ink of its class, an index into this.inks.
const FacetLayer = SurfaceLayer.extend({
  opacity: .6, few: 3000,
  inks: surface.fills.map(c => (255 << 24 | parseInt(c.slice(5, 7), 16) << 16 | parseInt(c.slice(3, 5), 16) << 8 | parseInt(c.slice(1, 3), 16)) >>> 0),

  // paint fills the facets that meet the canvas pixel by pixel, each pixel once; their edges are drawn where few are seen. (A canvas takes
  // seconds for paths of that many triangles.)
  paint(canvas, x, y) {
    const V = surface.V, W = canvas.width, H = canvas.height, paper = canvas.getContext("2d"), image = paper.createImageData(W, H);
    const pixels = new Uint32Array(image.data.buffer), inks = this.inks, seen = [], few = this.few;
    for (let e = 0; e < V.length; e += 3) {
      let a = V[e], b = V[e + 1], c = V[e + 2];
      if (Math.max(x[a], x[b], x[c]) < 0 || Math.min(x[a], x[b], x[c]) > W || Math.max(y[a], y[b], y[c]) < 0 || Math.min(y[a], y[b], y[c]) > H) continue;
      if (seen.length <= few) seen.push(e);
      if (y[a] > y[b]) [a, b] = [b, a];
      if (y[b] > y[c]) [b, c] = [c, b];
      if (y[a] > y[b]) [a, b] = [b, a];
      const ink = inks[this.classOf(e / 3)], low = Math.max(0, Math.ceil(y[a] - .5)), high = Math.min(H, Math.ceil(y[c] - .5));
      for (let row = low; row < high; row++) {
        const at = row + .5, long = x[a] + (x[c] - x[a]) * (at - y[a]) / (y[c] - y[a]);
        const short = at < y[b] ? x[a] + (x[b] - x[a]) * (at - y[a]) / (y[b] - y[a]) : x[b] + (x[c] - x[b]) * (at - y[b]) / (y[c] - y[b]);
        const from = Math.max(0, Math.ceil(Math.min(long, short) - .5)), to = Math.min(W, Math.ceil(Math.max(long, short) - .5));
        if (from < to) pixels.fill(ink, row * W + from, row * W + to);
      }
    }
    paper.putImageData(image, 0, 0);
    if (seen.length > few || !few) return;
    paper.strokeStyle = surface.colours.ink;
    paper.lineWidth = .5;
    for (const e of seen) {
      paper.beginPath();
      paper.moveTo(x[V[e]], y[V[e]]);
      paper.lineTo(x[V[e + 1]], y[V[e + 1]]);
      paper.lineTo(x[V[e + 2]], y[V[e + 2]]);
      paper.closePath();
      paper.stroke();
    }
  },

  // classOf is the class of a facet, worked out once.
  classOf(f) {
    this.classes ||= Uint8Array.from({length: surface.facets}, (_, i) => this.classFrom(...surface.gradient(i)));
    return this.classes[f];
  },
  classFrom: (gx, gy) => surface.steepness(Math.sqrt(gx * gx + gy * gy)),
});

// The relief: facets lit from the north-west, with heights drawn larger.
const ReliefLayer = FacetLayer.extend({
  pane: "relief", height: 240, opacity: 1, few: 0,
  inks: Array.from({length: 64}, (_, i) => {
    const v = Math.round(150 + 105 * i / 63);
    return (255 << 24 | v << 16 | v << 8 | v) >>> 0;
  }),
  classFrom(gx, gy) {
    const k = 10, s = Math.SQRT1_2, lit = (s * (k * gx - k * gy) * s + s) / Math.sqrt(1 + k * k * (gx * gx + gy * gy));
    return Math.max(0, Math.min(63, Math.round(lit * 63 / .98)));
  },
});

// Water by depth over the corners of the facets: this.level is the level of the water over each, its own elevation where it is dry; this.limits are
// the depths at which classes begin, this.strengths how dark they are.
const DepthLayer = SurfaceLayer.extend({
  pane: "depths", height: 255,
  initialize(level, limits, strengths) {
    const colour = [5, 3, 1].reduce((n, i) => n << 8 | parseInt(surface.colours.water.slice(i, i + 2), 16), 0);
    Object.assign(this, {level, limits, inks: strengths.map(s => (Math.round(255 * s) << 24 | colour) >>> 0)});
  },
  // paint fills in every facet that meets water the pixels that lie under it, each with its class of depth.
  paint(canvas, x, y) {
    const {V, Z} = surface, {level, limits, inks} = this;
    const W = canvas.width, H = canvas.height, paper = canvas.getContext("2d"), image = paper.createImageData(W, H), pixels = new Uint32Array(image.data.buffer);
    for (let e = 0; e < V.length; e += 3) {
      const c = [V[e], V[e + 1], V[e + 2]], wet = c.filter(v => level[v] > Z[v]);
      if (!wet.length) continue;
      const top = Math.max(...wet.map(v => level[v])), [a, b, d] = c;
      const x0 = Math.max(0, Math.ceil(Math.min(x[a], x[b], x[d]) - .5)), x1 = Math.min(W, Math.ceil(Math.max(x[a], x[b], x[d]) - .5));
      const y0 = Math.max(0, Math.ceil(Math.min(y[a], y[b], y[d]) - .5)), y1 = Math.min(H, Math.ceil(Math.max(y[a], y[b], y[d]) - .5));
      const area = (x[b] - x[a]) * (y[d] - y[a]) - (x[d] - x[a]) * (y[b] - y[a]);
      if (!area) continue;
      for (let row = y0; row < y1; row++) {
        for (let column = x0; column < x1; column++) {
          const px = column + .5 - x[a], py = row + .5 - y[a];
          const s = (px * (y[d] - y[a]) - (x[d] - x[a]) * py) / area, t = ((x[b] - x[a]) * py - px * (y[b] - y[a])) / area;
          if (s < 0 || t < 0 || s + t > 1) continue;
          const depth = top - (Z[a] + s * (Z[b] - Z[a]) + t * (Z[d] - Z[a]));
          if (depth <= 0) continue;
          let k = limits.length - 1;
          while (k > 0 && depth <= limits[k]) k--;
          pixels[row * W + column] = inks[k];
        }
      }
    }
    paper.putImageData(image, 0, 0);
  },
});
