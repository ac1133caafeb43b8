"use strict";
// The map: layers, facts, distances, elevations and sections.
const roofMap = (() => {
  const features = JSON.parse(document.getElementById("features").textContent).features;
  const map = L.map("map", {crs: L.CRS.Simple, preferCanvas: true, attributionControl: false, minZoom: -6, maxZoom: 12, zoomSnap: .25,
    fadeAnimation: false, zoomAnimation: false, markerZoomAnimation: false, inertia: false});
  const bounds = [[surface.south, surface.west], [surface.north, surface.east]];
  const hint = document.getElementById("hint"), readout = document.getElementById("readout");

  // Facts: the properties of a feature under the names of the files, numbers to what they are good to; the files have all digits.
  const decimals = {mm: 0, in: 2, m2: 1, ft2: 0, l: 0, gal: 0, kg: 0, lb: 0, kpa: 2, psf: 1, pct: 2, deg: 0, lps: 1, gpm: 0, share: 2};
  const levels = new Set(["level", "invert", "elevation"]);
  const rounded = (k, v) => {
    const at = k.lastIndexOf("_"), unit = k.slice(at + 1);
    let n = decimals[unit];
    if (unit === "m" || unit === "ft") n = !levels.has(k.slice(0, at)) && !/^(measured|required)_/.test(k) ? 1 : unit === "m" ? 3 : 2;
    return n === undefined ? String(v) : String(Number(v.toFixed(n)));
  };
  const hiddenKeys = new Set(["layer", "id", "title", "role", "stroke", "stroke-width", "fill", "fill-opacity", "marker-color", "marker-size"]);
  const metric = new Set(["height", "sigma", "depth", "diameter", "bowl", "dam_height", "width", "opening_height", "invert"]);
  const facts = p => {
    const box = document.createElement("div"), list = document.createElement("dl");
    const put = (name, text, into) => {
      const e = document.createElement(name), isolated = document.createElement("bdi");
      isolated.textContent = text;
      e.append(isolated);
      into.append(e);
    };
    put("strong", p.title || p.id, box);
    for (const k of Object.keys(p)) {
      if (hiddenKeys.has(k)) continue;
      const v = p[k];
      put("dt", k.replaceAll("_", " "), list);
      put("dd", (typeof v === "number" ? rounded(k, v) : typeof v === "object" ? JSON.stringify(v) : String(v)) + (metric.has(k) && typeof v === "number" ? " m" : ""), list);
    }
    box.append(list);
    return box;
  };

  const styleOf = p => {
    const s = {color: p.stroke || surface.colours.ink, weight: p["stroke-width"] || 1, fillColor: p.fill, fillOpacity: p["fill-opacity"] || 0, fill: Boolean(p.fill)};
    if (p.layer === "plane") {
      s.fillColor = surface.fills[surface.steepness(p.slope_pct / 100)];
      s.fillOpacity = .5; // so that ponds on the darkest class still show, in grey too
    }
    if (p.layer === "finding") s.color = surface.colours.ink, s.fillColor = p.fill, s.fillOpacity = .12, s.weight = 3, s.dashArray = "7 5";
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
  const make = name => {
    const all = waiting[name] || [];
    delete waiting[name];
    for (const f of all) {
      const p = f.properties;
      const layer = L.geoJSON(f, {
        coordsToLatLng: c => L.latLng(c[1], c[0]),
        style: f.geometry.type === "Point" ? undefined : styleOf(p),
        pointToLayer: (_, at) => L.circleMarker(at, {radius: sizes[p["marker-size"]] || 5, color: surface.colours.ink, weight: 1.5, fillColor: p["marker-color"], fillOpacity: 1}),
      });
      layer.bindPopup(() => facts(p), {maxWidth: 300, autoPanPadding: [10, 10]});
      layer.on("click", e => clicked(e.latlng));
      if (name === "pond" || name === "outlet") {
        const isolated = document.createElement("bdi");
        isolated.textContent = name === "outlet" && p.label ? p.label.slice(0, 12) : p.id.split(".").pop();
        layer.bindTooltip(isolated, {permanent: p.duty !== "overflow", direction: name === "pond" ? "top" : "right", offset: name === "pond" ? [0, -8] : [6, 6], className: "map-name"});
      }
      groups[name].addLayer(layer);
      byID[p.id].layer = layer;
    }
  };
  const boxes = [...document.querySelectorAll("#layers input")];
  const order = boxes.map(b => b.value);
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
        for (const name of order) set(name, wanted.includes(name));
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
    look: "Click a feature for its facts, or the roof for its elevation.",
    measure: "Click two places to measure the distance between them.",
    section: "Click two places: the section runs from the first to the second.",
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
  for (const box of boxes) set(box.value, box.checked);
  tabs.onOpen("map", () => map.invalidateSize({animate: false}));
  return {map, show, set, showSection, groups, boxes, features};
})();
