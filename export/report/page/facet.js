"use strict";
// The facets on the map: one canvas, drawn from the surface's arrays and only again when it no longer holds what is seen.
const FacetLayer = L.Layer.extend({
  onAdd(map) {
    const pane = map.getPane("facets") || map.createPane("facets");
    pane.style.zIndex = 250;
    pane.style.pointerEvents = "none";
    this.canvas = document.createElement("canvas");
    this.canvas.style.opacity = .6;
    pane.append(this.canvas);
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

  // paint fills the facets that meet the canvas pixel by pixel, each pixel once; their edges are drawn where few are seen. (A canvas takes
  // seconds for paths of that many triangles.)
  paint(canvas, x, y) {
    const V = surface.V, W = canvas.width, H = canvas.height, paper = canvas.getContext("2d"), image = paper.createImageData(W, H);
    const pixels = new Uint32Array(image.data.buffer), inks = surface.fills.map(c => (255 << 24 | parseInt(c.slice(5, 7), 16) << 16 | parseInt(c.slice(3, 5), 16) << 8 | parseInt(c.slice(1, 3), 16)) >>> 0);
    const seen = [], few = 3000;
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
    if (seen.length > few) return;
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

  // classOf is the class of a facet's own slope, worked out once.
  classOf(f) {
    this.classes ||= Uint8Array.from({length: surface.facets}, (_, i) => {
      const [gx, gy] = surface.gradient(i);
      return surface.steepness(Math.sqrt(gx * gx + gy * gy));
    });
    return this.classes[f];
  },
});
