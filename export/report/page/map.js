"use strict";
// The map: layers, facts, distances, elevations and sections.
const roofMap = (() => {
  const features = JSON.parse(document.getElementById("features").textContent).features;
  const map = L.map("map", {crs: L.CRS.Simple, preferCanvas: true, attributionControl: false, minZoom: -6, maxZoom: 12, zoomSnap: .25,
    fadeAnimation: false, zoomAnimation: false, markerZoomAnimation: false, inertia: false, zoomControl: false, dragging: !matchMedia("(pointer: coarse)").matches});
  const bounds = [[surface.south, surface.west], [surface.north, surface.east]];
  const hint = document.getElementById("hint"), readout = document.getElementById("readout");
  // One finger scrolls the page and two move the map; a mouse moves it.
  map.getContainer().addEventListener("pointerdown", e => { map.dragging[e.pointerType === "touch" ? "disable" : "enable"](); }, true);
  L.control.zoom({position: "bottomleft"}).addTo(map);
  L.control.scale({metric: !say.us, imperial: say.us, position: "bottomright"}).addTo(map);
  const north = L.control({position: "bottomleft"});
  north.onAdd = () => {
    const e = L.DomUtil.create("div", "map-north");
    e.textContent = "N";
    return e;
  };
  north.addTo(map);

  const styleOf = p => {
    const s = {color: p.stroke || surface.colours.ink, weight: p["stroke-width"] || 1, fillColor: p.fill, fillOpacity: p["fill-opacity"] || 0, fill: Boolean(p.fill)};
    if (p.layer === "plane") {
      s.fillColor = surface.fills[surface.steepness(p.slope_pct / 100)];
      s.fillOpacity = .5; // so that ponds on the darkest class still show, in grey too
    }
    if (p.layer === "pond") s.fillOpacity = .05; // its depths are painted under it
    if (p.layer === "contour") s.color = "#7D79A3", s.weight = .7, s.opacity = .6;
    if (p.layer === "flowpath") s.weight = 1.5, s.opacity = .55;
    if (p.layer === "finding") s.color = surface.colours.ink, s.fillColor = p.fill, s.fillOpacity = .12, s.weight = 2, s.dashArray = "7 5", s.fill = s.fill && !p.pond; // the water under it is seen and clicked

    if (p.layer === "outline") s.fill = false;
    return s;
  };
  const sizes = {small: 4, medium: 6, large: 8};
  // Layers of the map are made of their features when they are first shown: a large roof has thousands.
  const groups = {}, waiting = {}, byID = {};
  const layerOf = p => p.layer === "water" ? "water-" + p.id.match(/\.H(\d+)\d\d$/)[1] : p.layer; // a layer for each state of the water
  for (const f of features) {
    if (!f.geometry) continue;
    const name = layerOf(f.properties);
    groups[name] ||= L.layerGroup();
    (waiting[name] ||= []).push(f);
    byID[f.properties.id] = {name};
  }
  groups.facet = L.layerGroup([new FacetLayer()]);
  groups.relief = L.layerGroup([new ReliefLayer()]);
  const all = features.map(f => f.properties), names = new NameLayer();
  const ringsOf = f => f.geometry.type === "Polygon" ? [f.geometry.coordinates] : f.geometry.coordinates;

  // Ponds are painted by depth: a corner of the facets that lies in a pond has the pond's level over it.
  const pondLevels = () => {
    const level = Float64Array.from(surface.Z);
    for (const f of features) {
      const p = f.properties;
      if (p.layer !== "pond" || !f.geometry) continue;
      const top = say.us ? p.level_ft * .3048 : p.level_m, rings = ringsOf(f).flat();
      const xs = rings.flat().map(c => c[0]), ys = rings.flat().map(c => c[1]), [w, e] = [Math.min, Math.max].map(m => xs.reduce((a, b) => m(a, b))), [s, n] = [Math.min, Math.max].map(m => ys.reduce((a, b) => m(a, b)));
      for (let v = 0; v < level.length; v++) {
        const x = surface.X[v], y = surface.Y[v];
        if (surface.Z[v] >= top || x < w || x > e || y < s || y > n) continue;
        let inside = false;
        for (const r of rings) for (let i = 0, j = r.length - 1; i < r.length; j = i++) if ((r[i][1] > y) !== (r[j][1] > y) && x < (r[j][0] - r[i][0]) * (y - r[i][1]) / (r[j][1] - r[i][1]) + r[i][0]) inside = !inside;
        const edge = x === w || x === e || y === s || y === n;
        if (inside || edge) level[v] = top;
      }
    }
    return level;
  };
  if (groups.pond) groups.pond.addLayer(new DepthLayer(pondLevels(), surface.depths.map(d => d[0]), surface.depths.map(d => d[1])));
  const make = name => {
    const made = waiting[name] || [];
    delete waiting[name];
    for (const f of made) {
      const p = f.properties;
      const layer = L.geoJSON(f, {
        coordsToLatLng: c => L.latLng(c[1], c[0]),
        style: f.geometry.type === "Point" ? undefined : styleOf(p),
        pointToLayer: (_, at) => L.circleMarker(at, {radius: sizes[p["marker-size"]] || 5, color: surface.colours.ink, weight: 1.5, fillColor: p["marker-color"], fillOpacity: 1}),
      });
      layer.bindPopup(() => facts.box(p, all), {minWidth: 180, maxWidth: Math.min(300, map.getSize().x - 60), autoPanPadding: [10, 10]});
      layer.on("click", e => clicked(e.latlng));
      groups[name].addLayer(layer);
      byID[p.id].layer = layer;
      nameOf(f, layer, () => map.hasLayer(groups[name]));
    }
  };
  // nameOf names ponds with their depth, outlets, curbs and edges.
  const nameOf = (f, layer, shown) => {
    const p = f.properties, middle = () => layer.getBounds().getCenter(), add = (text, at, rank, round, severity) => names.add({text: text.slice(0, 24), at, kind: p.layer, rank, shown, round, severity});
    switch (p.layer) {
    case "pond": add(`${p.id.split(".").pop()}  ${facts.of(p, "depth")}`, middle(), 0, layer.getBounds(), all.find(q => q.layer === "finding" && q.pond === p.id)?.severity); break;
    case "outlet": add(p.label || p.id.split(".").pop(), f.geometry.type === "Point" ? layer.getBounds().getCenter() : midway(f.geometry.coordinates), p.duty === "overflow" ? 3 : 1); break;
    case "finding": if (!p.pond) add(p.id.split(".").pop(), middle(), 2, null, p.severity); break;
    case "curb": add(p.label || "curb", middle(), 4); break;
    case "edge": add(p.label || p.type || "", midway(f.geometry.coordinates), 5); break;
    case "outline": walls(f, shown);
    }
  };
  const midway = c => {
    let far = 0;
    const steps = c.slice(1).map((q, i) => Math.sqrt((q[0] - c[i][0]) ** 2 + (q[1] - c[i][1]) ** 2)), half = steps.reduce((a, b) => a + b, 0) / 2;
    const i = steps.findIndex(d => (far += d) >= half), k = steps[i] ? 1 - (far - half) / steps[i] : 0;
    return L.latLng(c[i][1] + k * (c[i + 1][1] - c[i][1]), c[i][0] + k * (c[i + 1][0] - c[i][0]));
  };
  // walls names the long sides of an outline that say nothing of their own by what the outline says of all.
  const walls = (f, shown) => {
    const ring = f.geometry.coordinates[0], of = f.properties.edge, long = .2 * Math.max(surface.east - surface.west, surface.north - surface.south);
    const stated = features.filter(g => g.geometry && g.properties.layer === "edge" && g.geometry.type === "LineString").flatMap(g => g.geometry.coordinates.slice(1).map((q, i) => [g.geometry.coordinates[i], q]));
    const between = (a, m, b) => Math.abs((b[0] - a[0]) * (m[1] - a[1]) - (b[1] - a[1]) * (m[0] - a[0])) < .05 && (m[0] - a[0]) * (m[0] - b[0]) + (m[1] - a[1]) * (m[1] - b[1]) <= 0;
    if (of) ring.slice(1).forEach((b, i) => {
      const a = ring[i], m = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      if (Math.sqrt((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) < long || stated.some(([p, q]) => between(p, m, q))) return;
      names.add({text: of, at: L.latLng(m[1], m[0]), kind: "edge", rank: 5, shown});
    });
  };
  const boxes = [...document.querySelectorAll("#layers input")];
  const order = ["relief", "facet", ...new Set(features.filter(f => f.geometry).map(f => layerOf(f.properties)))]; // the lowest first
  const arrange = () => {
    for (const name of order) groups[name]?.eachLayer(g => { if (map.hasLayer(g)) g.bringToFront(); });
  };
  const set = (name, on) => {
    const box = boxes.find(b => b.value === name);
    if (!box || !groups[name]) return;
    box.checked = on;
    if (on) {
      make(name);
      groups[name].addTo(map);
    } else groups[name].remove();
    arrange();
    names.again();
  };

  // The address keeps place, layers and section.
  let sectionLine = null;
  address.add({
    write() {
      const c = map.getCenter(), on = boxes.filter(b => b.checked).map(b => b.value).join(".");
      return `view=${c.lng.toFixed(2)},${c.lat.toFixed(2)},${map.getZoom().toFixed(2)}&layers=${on}` +
        (sectionLine ? "&section=" + sectionLine.flat().map(v => v.toFixed(3)).join(",") : "");
    },
    read(h) {
      const view = address.numbers(h.get("view"), 3), s = address.numbers(h.get("section"), 4);
      if (h.has("layers")) {
        const wanted = h.get("layers").split(".");
        for (const name of boxes.map(b => b.value)) set(name, wanted.includes(name));
      }
      if (view) map.setView([view[1], view[0]], view[2], {animate: false});
      if (s) showSection([s[0], s[1]], [s[2], s[3]]);
    },
  });

  // Tools.
  const ponds = features.filter(f => f.properties.layer === "pond" && f.geometry).map(f => ({
    id: f.properties.id.split(".").pop(),
    level: say.us ? f.properties.level_ft * .3048 : f.properties.level_m,
    polygons: f.geometry.type === "Polygon" ? [f.geometry.coordinates] : f.geometry.coordinates,
  }));
  const drawn = L.layerGroup().addTo(map);
  let tool = "look", start = null;
  const line = (a, b) => {
    drawn.clearLayers();
    const path = [[a[1], a[0]], [b[1], b[0]]];
    L.polyline(path, {color: "#fff", weight: 6, interactive: false}).addTo(drawn);
    L.polyline(path, {color: surface.colours.ink, weight: 3, dashArray: "8 5", interactive: false}).addTo(drawn);
  };
  const showSection = (a, b) => {
    sectionLine = [a, b];
    line(a, b);
    const cut = drawSection(a, b, ponds);
    address.keep();
    return cut;
  };
  const hints = {
    look: "Tap or click a thing for its facts, or the roof for its elevation.",
    measure: "Tap or click two places to measure the distance between them.",
    section: "Tap or click two places: the section runs from the first to the second.",
  };
  const choose = name => {
    tool = name;
    start = null;
    for (const t of ["look", "measure", "section"]) document.getElementById("tool-" + t).setAttribute("aria-pressed", String(t === name));
    hint.textContent = hints[name];
    map.getContainer().classList.toggle("drawing", name !== "look");
    map.closePopup();
  };
  for (const t of ["look", "measure", "section"]) document.getElementById("tool-" + t).addEventListener("click", () => choose(t));
  const place = (x, y) => {
    const f = surface.facet(x, y);
    if (f < 0) return "No roof here.";
    const [gx, gy] = surface.gradient(f), slope = Math.sqrt(gx * gx + gy * gy);
    const falls = slope < 5e-5 ? "level" : `falling ${say.slope(slope)} towards ${Math.round(Math.atan2(-gx, -gy) * 180 / Math.PI + 360) % 360}° from north`;
    let text = `${say.length(x - surface.west)} east and ${say.length(y - surface.south)} north of the south-west corner`;
    if (surface.file) text += ` (${(surface.file.east + x / surface.file.metres).toFixed(3)}, ${(surface.file.north + y / surface.file.metres).toFixed(3)} in the file)`;
    return `Elevation ${say.elevation(surface.elevation(x, y))}, ${falls}, ${text}.`;
  };
  const clicked = at => {
    const here = [at.lng, at.lat];
    readout.textContent = place(...here);
    if (tool === "look") return;
    if (!start) {
      start = here;
      drawn.clearLayers();
      L.circleMarker(at, {radius: 5, color: surface.colours.ink, fillColor: "#fff", fillOpacity: 1, interactive: false}).addTo(drawn);
      hint.textContent = "Now the second place.";
      return;
    }
    const from = start;
    start = null;
    hint.textContent = hints[tool];
    line(from, here);
    if (tool === "section") { showSection(from, here); return; }
    const dx = here[0] - from[0], dy = here[1] - from[1], a = surface.elevation(...from), b = surface.elevation(...here), d = Math.sqrt(dx * dx + dy * dy);
    let text = `Distance ${say.length(d)} in plan.`;
    if (a !== null && b !== null && d > 0) text += ` Rise ${say.depth(b - a)}, ${say.slope((b - a) / d)} from end to end.`;
    readout.textContent = text;
  };
  map.on("click", e => clicked(e.latlng));
  map.on("preclick", () => { if (tool !== "look") setTimeout(() => map.closePopup()); });
  for (const box of boxes) box.addEventListener("change", () => { set(box.value, box.checked); address.keep(); });
  map.on("moveend", address.keep);
  const whole = () => map.fitBounds(bounds, {padding: [20, 20], animate: false});
  document.getElementById("whole").addEventListener("click", whole);
  const show = id => {
    const f = byID[id];
    if (!f) return false;
    tabs.open("map");
    choose("look");
    set(f.name, true);
    const b = f.layer.getBounds();
    map.fitBounds(b.pad(1), {maxZoom: 6, animate: false});
    document.getElementById("map-section").scrollIntoView();
    f.layer.openPopup(b.getCenter());
    return true;
  };
  document.querySelectorAll("button.show").forEach(b => b.addEventListener("click", () => show(b.dataset.feature)));
  document.getElementById("section-form").addEventListener("submit", e => {
    e.preventDefault();
    const v = k => Number(e.target.elements[k].value) * (say.us ? .3048 : 1);
    showSection([v("x0") + surface.west, v("y0") + surface.south], [v("x1") + surface.west, v("y1") + surface.south]);
  });

  whole();
  names.addTo(map);
  for (const box of boxes) set(box.value, box.checked);
  tabs.onOpen("map", () => map.invalidateSize({animate: false}));
  return {map, show, set, showSection, groups, boxes, features, names};
})();
