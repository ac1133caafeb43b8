"use strict";
// Names on the map: as many as find room, the most important first; the others come when the map comes nearer.
const NameLayer = L.Layer.extend({
  initialize() { this.names = []; },
  // add adds a name: {text, at, kind, rank, shown, round, severity}; a low rank comes first, shown says whether its feature is on the map, round is
  // the bounds beside which it may stand where there is no room at its place, severity that of its finding.
  add(name) { this.names.push(name); },
  onAdd(map) {
    const pane = map.getPane("names") || map.createPane("names");
    pane.style.zIndex = 640;
    pane.style.pointerEvents = "none";
    this.box = document.createElement("div");
    this.box.setAttribute("aria-hidden", "true");
    pane.append(this.box);
    this.draw();
  },
  onRemove() { this.box.remove(); },
  getEvents() { return {moveend: this.draw, zoomend: this.draw, resize: this.draw}; },
  again() {
    this.asked ||= requestAnimationFrame(() => {
      this.asked = 0;
      this.draw();
    });
  },
  // draw puts every name above, right of, left of or under its place, where it meets no other.
  draw() {
    const map = this._map;
    if (!map || !map.getSize().x) return;
    const size = map.getSize(), taken = [];
    const meets = r => r[0] < 0 || r[1] < 0 || r[2] > size.x || r[3] > size.y || taken.some(o => r[0] < o[2] && r[2] > o[0] && r[1] < o[3] && r[3] > o[1]);
    this.box.replaceChildren();
    const all = this.names.filter(n => n.shown()).map(n => ({...n, p: map.latLngToContainerPoint(n.at)})).filter(n => n.p.x > -50 && n.p.y > -50 && n.p.x < size.x + 50 && n.p.y < size.y + 50);
    for (const n of all) if (n.kind === "outlet") taken.push([n.p.x - 8, n.p.y - 8, n.p.x + 8, n.p.y + 8]);
    all.sort((a, b) => a.rank - b.rank);
    let ponds = Math.max(8, Math.round(size.x * size.y / 25000)); // as many as leave the water to be seen, the worst first
    for (const n of all) {
      if (n.kind === "pond" && (n.p.x < 0 || n.p.y < 0 || n.p.x > size.x || n.p.y > size.y || ponds-- <= 0)) continue;
      const e = document.createElement("span"), isolated = document.createElement("bdi");
      isolated.textContent = n.text;
      e.className = ["map-name", n.kind === "finding" ? "found" : n.kind, n.severity || ""].join(" ").trim();
      e.append(isolated);
      this.box.append(e);
      const w = e.offsetWidth, h = e.offsetHeight, {x, y} = n.p, gap = n.kind === "outlet" ? 9 : 3;
      const places = [[x - w / 2, y - h - gap], [x + gap, y - h / 2], [x - w - gap, y - h / 2], [x - w / 2, y + gap]];
      if (n.round) {
        const a = map.latLngToContainerPoint(n.round.getNorthWest()), b = map.latLngToContainerPoint(n.round.getSouthEast());
        places.push([x - w / 2, a.y - h - 2], [b.x + 3, y - h / 2], [x - w / 2, b.y + 2], [a.x - w - 3, y - h / 2], [b.x + 3, a.y - h], [a.x - w - 3, a.y - h], [b.x + 3, b.y], [a.x - w - 3, b.y]);
      }
      else if (n.kind === "pond") for (const k of [2, 3]) places.push([x - w / 2, y - k * h - gap], [x + gap, y - k * h], [x - w - gap, y - k * h]); // outlets stand round it
      if (n.kind === "curb" || n.kind === "edge") places.unshift([x - w / 2, y - h / 2]);
      const at = places.find(([l, t]) => !meets([l, t, l + w, t + h]));
      if (!at) { e.remove(); continue; }
      taken.push([at[0], at[1], at[0] + w, at[1] + h]);
      L.DomUtil.setPosition(e, map.containerPointToLayerPoint(at));
    }
  },
});
