"use strict";
// The roof as a scene of three.js: x east, y north and z up, in metres from the middle of the roof. Heights of the surface and of
// the water are drawn larger by a factor; what stands on the roof keeps its true height.
const buildScene = (three, features) => {
  const {X, Y, Z, V, colours} = surface;
  const cx = (surface.west + surface.east) / 2, cy = (surface.south + surface.north) / 2;
  const low = Z.reduce((a, b) => Math.min(a, b), Infinity), high = Z.reduce((a, b) => Math.max(a, b), -Infinity), middle = (low + high) / 2;
  const size = Math.max(surface.east - surface.west, surface.north - surface.south);
  const scene = new three.Scene(), relief = new three.Group(), standing = [], labels = [];
  scene.add(relief, new three.AmbientLight(0xffffff, 1.75));
  const sun = new three.DirectionalLight(0xffffff, 1.7);
  sun.position.set(-1, 1, 1.3);
  scene.add(sun);

  const rgb = colour => [1, 3, 5].map(i => parseInt(colour.slice(i, i + 2), 16));
  const geometry = (places, paint) => {
    const g = new three.BufferGeometry();
    g.setAttribute("position", new three.BufferAttribute(places, 3));
    if (paint) g.setAttribute("color", new three.BufferAttribute(paint, 3, true));
    return g;
  };
  const solid = options => new three.MeshLambertMaterial({flatShading: true, side: three.DoubleSide, ...options});

  // The facets: pale, or each with the colour of its plane's slope, lightened so that shade and water show.
  const places = new Float32Array(3 * V.length), paint = new Uint8Array(3 * V.length);
  const fills = surface.fills.map(c => rgb(c).map(v => Math.round(v + (255 - v) * .35)));
  V.forEach((v, e) => places.set([X[v] - cx, Y[v] - cy, Z[v] - middle], 3 * e));
  const facets = new three.Mesh(geometry(places, paint), solid({vertexColors: true, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1}));
  relief.add(facets);
  const colour = bySlope => {
    for (let e = 0; e < V.length; e++) paint.set(bySlope ? fills[surface.planeClass(Math.floor(e / 3))] : [236, 232, 226], 3 * e);
    facets.geometry.attributes.color.needsUpdate = true;
  };

  // stand adds triangles whose corners [x, y, z, up] stand up metres over a place of the surface.
  const stand = (corners, colour) => {
    const mesh = new three.Mesh(geometry(new Float32Array(3 * corners.length)), solid({color: colour}));
    mesh.frustumCulled = false;
    standing.push({mesh, corners});
    scene.add(mesh);
  };
  // wall is the two triangles under a side, whose ends are [x, y, z, z of the other border, metres over that].
  const wall = (a, b) => {
    const [p, q, r, s] = [[...a.slice(0, 3), 0], [...b.slice(0, 3), 0], [b[0], b[1], b[3], b[4]], [a[0], a[1], a[3], a[4]]];
    return [p, q, r, p, r, s];
  };
  const rings = coordinates => coordinates.map(r => r.slice(0, -1));
  const triangles = polygon => {
    const flat = polygon.flat(), shapes = polygon.map(r => r.map(p => new three.Vector2(p[0], p[1])));
    return three.ShapeUtils.triangulateShape(shapes[0], shapes.slice(1)).map(t => t.map(i => flat[i]));
  };

  // The roof's edge as a band that hangs from it, where it takes water in the colour of outlets.
  const foot = -.03 * size;
  const band = edges => edges.flatMap(e => wall(...[e, e % 3 === 2 ? e - 2 : e + 1].map(c => [X[V[c]], Y[V[c]], Z[V[c]], low, foot])));
  stand(band(surface.closed), "#cfc8d4");
  stand(band(surface.open), colours.primary);

  // Curbs: blocks of their own height over the highest place of their ring.
  const nearest = (x, y) => {
    let best = 0, least = Infinity;
    X.forEach((vx, i) => {
      const d = (vx - x) ** 2 + (Y[i] - y) ** 2;
      if (d < least) [best, least] = [i, d];
    });
    return best;
  };
  const block = (ring, height, name) => {
    const feet = ring.map(([x, y]) => [x, y, Z[nearest(x, y)]]), top = feet.reduce((a, p) => Math.max(a, p[2]), -Infinity);
    const ends = feet.map(p => [...p, top, height]);
    stand(ends.flatMap((p, i) => wall(p, ends[(i + 1) % ends.length])).concat(triangles([feet]).flat().map(p => [p[0], p[1], top, height])), "#b9b2bf");
    if (name) labels.push({kind: "curb", text: name, at: [...feet.reduce((s, p) => [s[0] + p[0] / feet.length, s[1] + p[1] / feet.length], [0, 0]), top, height]});
  };
  const middleOf = (a, b) => a.map((v, i) => (v + b[i]) / 2);
  const of = layer => features.filter(f => f.geometry && f.properties.layer === layer);
  const usual = .3; // of a curb whose height nobody stated [m]
  for (const f of of("curb")) block(rings(f.geometry.coordinates)[0], f.properties.height || usual, f.properties.label);
  for (const f of of("outline")) for (const r of rings(f.geometry.coordinates).slice(1)) block(r, usual, "");

  // Water: a sheet over each pond at its level, edged.
  const sheet = new three.MeshBasicMaterial({color: colours.water, transparent: true, opacity: .6, side: three.DoubleSide, depthWrite: false});
  const shore = new three.LineBasicMaterial({color: colours.water});
  const still = new three.Group();
  relief.add(still);
  for (const f of of("pond")) {
    const p = f.properties, level = (say.us ? p.level_ft * .3048 : p.level_m) - middle, deep = `${p.id.split(".").pop()}  ${facts.of(p, "depth")}`;
    const polygons = (f.geometry.type === "Polygon" ? [f.geometry.coordinates] : f.geometry.coordinates).map(rings);
    const faces = polygons.flatMap(triangles), flat = points => new Float32Array(points.flatMap(c => [c[0] - cx, c[1] - cy, level]));
    const mesh = new three.Mesh(geometry(flat(faces.flat())), sheet);
    mesh.renderOrder = 1;
    still.add(mesh, new three.LineSegments(geometry(flat(polygons.flat().flatMap(r => r.flatMap((c, i) => [c, r[(i + 1) % r.length]])))), shore));
    const centre = t => [0, 1].map(k => (t[0][k] + t[1][k] + t[2][k]) / 3);
    const extent = t => Math.abs((t[1][0] - t[0][0]) * (t[2][1] - t[0][1]) - (t[2][0] - t[0][0]) * (t[1][1] - t[0][1]));
    const largest = faces.reduce((a, b) => extent(b) > extent(a) ? b : a, faces[0]);
    if (largest) labels.push({kind: "pond", text: deep, at: [...centre(largest), level + middle, 0]});
  }

  // The storm's water stands in place of the ponds: over each facet with a wet corner a triangle at that corner's level, which the roof hides
  // where it is higher.
  const flooded = new three.Mesh(geometry(new Float32Array(0)), sheet), deepest = {kind: "pond", text: "", at: [0, 0, 0, 0], storm: true};
  flooded.renderOrder = 1;
  flooded.frustumCulled = false;
  relief.add(flooded);
  labels.unshift(deepest);
  const flood = water => {
    const corners = [], level = water && water.level();
    if (level) for (let e = 0; e < V.length; e += 3) {
      const wet = [V[e], V[e + 1], V[e + 2]].find(v => level[v] > Z[v]);
      if (wet !== undefined) for (let i = 0; i < 3; i++) corners.push(X[V[e + i]] - cx, Y[V[e + i]] - cy, level[wet] - middle);
    }
    flooded.geometry.dispose();
    flooded.geometry = geometry(new Float32Array(corners));
    still.visible = !level;
    const v = water ? water.place() : 0;
    deepest.text = level && corners.length ? say.depth(water.deepest()) : "";
    deepest.at = [X[v], Y[v], level ? level[v] : Z[v], 0];
    for (const l of labels) l.off = l.kind === "pond" && (l.storm ? !deepest.text : Boolean(level));
  };

  // Outlets: a ball at the level from which it takes water or on the surface, whichever is higher; a cube where it is an overflow.
  const radius = Math.min(Math.max(size / 120, .1), .5);
  const ball = new three.SphereGeometry(radius, 16, 12), cube = new three.BoxGeometry(1.6 * radius, 1.6 * radius, 1.6 * radius);
  for (const f of of("outlet")) {
    const p = f.properties, edge = f.geometry.type === "LineString", c = f.geometry.coordinates, k = c.length / 2, [x, y, z = low] = edge ? middleOf(c[Math.ceil(k) - 1], c[Math.floor(k)]) : c;
    const ground = surface.elevation(x, y), at = [x, y, Math.max(z, ground === null ? Z[nearest(x, y)] : ground), edge ? 0 : radius];
    labels.push({kind: p.duty === "overflow" ? "overflow" : "outlet", text: (p.label || p.id.split(".").pop()).slice(0, 24), at});
    if (edge) continue;
    const mesh = new three.Mesh(p.duty === "overflow" ? cube : ball, new three.MeshLambertMaterial({color: p.duty === "overflow" ? colours.overflow : colours.primary}));
    standing.push({mark: mesh, at});
    scene.add(mesh);
  }
  labels.push({kind: "north", text: "N", at: [cx, surface.north + .04 * size, low, 0]});

  // place is where something that stands up metres over the surface is in the scene.
  const place = ([x, y, z, up], factor) => [x - cx, y - cy, (z - middle) * factor + up];
  const exaggerate = factor => {
    relief.scale.z = factor;
    for (const s of standing) {
      if (s.mark) { s.mark.position.set(...place([...s.at.slice(0, 3), 0], factor)); continue; }
      const position = s.mesh.geometry.attributes.position;
      s.corners.forEach((c, i) => position.setXYZ(i, ...place(c, factor)));
      position.needsUpdate = true;
    }
  };
  const corners = [...surface.closed, ...surface.open].map(e => V[e]).flatMap(v => [[X[v], Y[v], Z[v], 0], [X[v], Y[v], low, foot]]);
  return {scene, relief, still, flooded, middle, labels, flood, corners, place, exaggerate, colour, size, rise: high - low};
};
