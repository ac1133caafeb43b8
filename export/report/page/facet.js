"use strict";
// The facets on the map: one canvas, drawn from the surface's arrays and only again when it no longer holds what is seen.
const FacetLayer = L.Layer.extend({
  onAdd(map) {
    const pane = map.getPane("facets") || map.createPane("facets");
    pane.style.zIndex = 250;
    pane.style.pointerEvents = "none";
    this.canvas = document.createElement("canvas");
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
    const [from, to, canvas] = [bounds.min, bounds.getSize(), this.canvas], ratio = Math.min(2, devicePixelRatio);
    this.drawn = {zoom, bounds};
    L.DomUtil.setPosition(canvas, from.subtract(map.getPixelOrigin()));
    canvas.width = to.x * ratio;
    canvas.height = to.y * ratio;
    canvas.style.width = to.x + "px";
    canvas.style.height = to.y + "px";
    const scale = map.options.crs.scale(zoom), paper = canvas.getContext("2d");
    paper.scale(ratio, ratio);
    this.paint(paper, surface.X.map(x => x * scale - from.x), surface.Y.map(y => -y * scale - from.y), to);
  },

  // paint fills the facets that meet the canvas, class by class; their edges are drawn where they are far enough apart.
  paint(paper, x, y, size) {
    const V = surface.V, paths = surface.fills.map(() => new Path2D());
    let count = 0, area = 0;
    for (let e = 0; e < V.length; e += 3) {
      const a = V[e], b = V[e + 1], c = V[e + 2];
      if (Math.max(x[a], x[b], x[c]) < 0 || Math.min(x[a], x[b], x[c]) > size.x || Math.max(y[a], y[b], y[c]) < 0 || Math.min(y[a], y[b], y[c]) > size.y) continue;
      const [gx, gy] = surface.gradient(e / 3), path = paths[surface.steepness(Math.sqrt(gx * gx + gy * gy))];
      path.moveTo(x[a], y[a]);
      path.lineTo(x[b], y[b]);
      path.lineTo(x[c], y[c]);
      path.closePath();
      count++;
      area += Math.abs((x[b] - x[a]) * (y[c] - y[a]) - (x[c] - x[a]) * (y[b] - y[a])) / 2;
    }
    const apart = area > 60 * count;
    paper.lineJoin = "round";
    paper.lineWidth = apart ? .6 : 1;
    paths.forEach((path, k) => {
      paper.fillStyle = surface.fills[k];
      paper.fill(path);
      paper.strokeStyle = apart ? surface.colours.ink : surface.fills[k];
      paper.stroke(path);
    });
  },
});
