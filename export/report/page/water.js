"use strict";
// The storm's water on the map, moment by moment: one canvas, drawn from the levels over the corners of the facets.
const standingWater = (() => {
  const kept = document.getElementById("standing"), box = document.getElementById("standing-on");
  if (!kept || !box) return null;
  const {grid, moments, rain, limits, strength, cases} = JSON.parse(kept.textContent), {V, Z} = surface;
  const slider = document.getElementById("standing-time"), choice = document.getElementById("standing-case"), said = document.getElementById("standing-said");
  let level = new Float64Array(Z.length), deepest = 0;

  // unpack fills the levels of one moment; a dry corner has its own elevation.
  const unpack = () => {
    const [steps, runs] = cases[choice.selectedIndex][slider.value], levels = [];
    steps.forEach((d, i) => levels.push(d + (i ? levels[i - 1] : 0)));
    deepest = 0;
    let v = 0;
    for (let i = 0; i < runs.length; i += 2) {
      for (const end = v + runs[i + 1]; v < end; v++) {
        level[v] = runs[i] ? levels[runs[i] - 1] * grid : Z[v];
        if (runs[i] && level[v] - Z[v] > deepest) deepest = level[v] - Z[v];
      }
    }
  };

  const colour = [5, 3, 1].reduce((n, i) => n << 8 | parseInt(surface.colours.water.slice(i, i + 2), 16), 0);
  const inks = strength.map(s => (Math.round(255 * s) << 24 | colour) >>> 0);
  const WaterLayer = FacetLayer.extend({
    onAdd(map) {
      const pane = map.getPane("standing") || map.createPane("standing");
      pane.style.zIndex = 260;
      pane.style.pointerEvents = "none";
      this.canvas = document.createElement("canvas");
      pane.append(this.canvas);
      this.drawn = null;
      this.draw();
    },
    again() {
      this.drawn = null;
      this.draw();
    },
    // paint fills in every facet that meets water the pixels that lie under it, each with its class of depth.
    paint(canvas, x, y) {
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
  const layer = new WaterLayer();

  const clock = s => {
    const m = Math.round(s / 60);
    if (m < 60) return m + " min";
    return m % 60 ? `${Math.floor(m / 60)} h ${m % 60} min` : m / 60 + " h";
  };
  const show = () => {
    unpack();
    const time = clock(moments[slider.value]);
    slider.setAttribute("aria-valuetext", time + " after the rain begins");
    said.textContent = `${time} after the rain begins, rain ${rain[slider.value]}: ` + (deepest > 0 ? `deepest ${say.depth(deepest)}` : "no water stands");
    if (box.checked) layer.again();
  };
  // While the water of a moment is shown, full ponds and greatest depths are not.
  const turn = on => {
    box.checked = on;
    if (on) {
      for (const b of roofMap.boxes) if (b.value === "pond" || b.value.startsWith("water-")) roofMap.set(b.value, false);
      unpack();
      layer.addTo(roofMap.map);
    } else layer.remove();
    show();
  };
  box.addEventListener("change", () => { turn(box.checked); address.keep(); });
  for (const e of [slider, choice]) e.addEventListener("input", () => {
    if (box.checked) show(); else turn(true);
    address.keep();
  });
  address.add({
    write: () => box.checked ? `storm=${choice.selectedIndex},${slider.value}` : "",
    read(h) {
      const at = address.numbers(h.get("storm"), 2);
      if (at && cases[at[0]] && moments[at[1]] !== undefined) {
        choice.selectedIndex = at[0];
        slider.value = at[1];
        turn(true);
      } else if (box.checked) turn(false);
    },
  });
  show();
  return {level: () => level, deepest: () => deepest, moments, cases, layer};
})();
