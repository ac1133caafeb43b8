"use strict";
// The storm's water on the map, moment by moment: one canvas, drawn from the levels over the corners of the facets.
const standingWater = (() => {
  const kept = document.getElementById("standing"), box = document.getElementById("standing-on");
  if (!kept || !box) return null;
  const {grid, moments, rain, limits, strength, cases} = JSON.parse(kept.textContent), {Z} = surface;
  const slider = document.getElementById("standing-time"), choice = document.getElementById("standing-case"), said = document.getElementById("standing-said");
  const level = new Float64Array(Z.length), play = document.getElementById("standing-play");
  let deepest = 0, place = 0, playing = 0;
  const watchers = []; // told when other water is shown

  // unpack fills the levels of one moment; a dry corner has its own elevation.
  const unpack = () => {
    const [steps, runs] = cases[choice.selectedIndex][slider.value], levels = [];
    steps.forEach((d, i) => levels.push(d + (i ? levels[i - 1] : 0)));
    deepest = 0;
    let v = 0;
    for (let i = 0; i < runs.length; i += 2) {
      for (const end = v + runs[i + 1]; v < end; v++) {
        level[v] = runs[i] ? levels[runs[i] - 1] * grid : Z[v];
        if (runs[i] && level[v] - Z[v] > deepest) [deepest, place] = [level[v] - Z[v], v];
      }
    }
  };

  const layer = new DepthLayer(level, limits, strength);
  const name = {text: "", at: L.latLng(0, 0), kind: "pond", rank: -1, shown: () => box.checked && deepest > 0}; // of the deepest place
  roofMap.names.add(name);

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
    name.text = say.depth(deepest);
    name.at = L.latLng(surface.Y[place], surface.X[place]);
    roofMap.names.again();
    if (box.checked) layer.again();
    for (const w of watchers) w();
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
  // Played, the water runs through the storm's moments and stops at the last.
  const stop = () => {
    clearInterval(playing);
    playing = 0;
    play.textContent = "Play";
    play.setAttribute("aria-pressed", "false");
  };
  play.addEventListener("click", () => {
    if (playing) { stop(); return; }
    if (Number(slider.value) >= Number(slider.max)) slider.value = 0;
    turn(true);
    play.textContent = "Stop";
    play.setAttribute("aria-pressed", "true");
    playing = setInterval(() => {
      slider.value = Number(slider.value) + 1;
      show();
      if (Number(slider.value) >= Number(slider.max)) { stop(); address.keep(); }
    }, 250);
  });
  // worst is the case and the moment with the deepest water.
  const worst = () => {
    let best = [0, 0], most = 0;
    for (let c = 0; c < cases.length; c++) {
      for (let m = 0; m < moments.length; m++) {
        choice.selectedIndex = c;
        slider.value = m;
        unpack();
        if (deepest > most) [best, most] = [[c, m], deepest];
      }
    }
    return best;
  };
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
      } else if (box.checked && [...h].length) turn(false); // an address without a view leaves the storm on
    },
  });
  [choice.selectedIndex, slider.value] = worst();
  show();
  if (!location.hash.includes("=")) turn(true);
  return {level: () => level, deepest: () => deepest, place: () => place, on: () => box.checked, watch: w => watchers.push(w), moments, cases, layer};
})();
