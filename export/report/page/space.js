"use strict";
// The 3-D view: made when its tab is first opened, drawn only when something changes.
const space = (() => {
  const box = document.getElementById("space"), slider = document.getElementById("heights"), said = document.getElementById("heights-said"), slopes = document.getElementById("slopes");
  const most = Number(slider.max), clamp = (v, from, to) => Math.min(Math.max(v, from), to);
  let view = null, wanted = {}, starting = null, timer = 0;

  // unpack makes a script of the library that the page holds packed.
  const unpack = async () => {
    const bytes = Uint8Array.from(atob(document.getElementById("packed").textContent), c => c.charCodeAt(0));
    const script = document.createElement("script");
    script.textContent = await new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).text();
    document.head.append(script);
    return three;
  };

  // without says why there is no 3-D and shows the plan instead.
  const without = why => {
    const note = document.getElementById("space-without"), plan = new Image();
    document.getElementById("space-with").hidden = true;
    note.hidden = false;
    note.querySelector("p").textContent = why + " The plan shows the same roof:";
    plan.alt = "Plan of the roof";
    plan.src = "data:image/svg+xml," + encodeURIComponent(new XMLSerializer().serializeToString(document.querySelector("#sheet svg")));
    note.querySelector("img")?.remove();
    note.append(plan);
  };

  const start = async () => {
    const canvas = document.createElement("canvas"), context = canvas.getContext("webgl2", {antialias: true});
    if (!context) { without("This browser draws no 3-D: WebGL is switched off or missing."); return; }
    if (!("DecompressionStream" in window)) { without("This browser is too old for the 3-D view."); return; }
    view = makeView(await unpack(), canvas, context);
    view.reset();
    view.apply(wanted);
  };

  const makeView = (three, canvas, context) => {
    three.ColorManagement.enabled = false;
    const renderer = new three.WebGLRenderer({canvas, context}), model = buildScene(three, roofMap.features), camera = new three.PerspectiveCamera(32, 1, model.size / 500, model.size * 20);
    renderer.outputColorSpace = three.LinearSRGBColorSpace;
    renderer.setClearColor("#f4f2f6");
    renderer.setPixelRatio(Math.min(2, devicePixelRatio));
    camera.up.set(0, 0, 1);
    const over = document.createElement("div");
    over.className = "space-labels";
    over.setAttribute("aria-hidden", "true");
    box.append(canvas, over);
    const controls = new three.OrbitControls(camera, canvas);
    canvas.style.touchAction = "pan-y"; // one finger scrolls the page
    controls.touches = {ONE: -1, TWO: 3}; // two turn and come nearer: TOUCH.DOLLY_ROTATE
    Object.assign(controls, {screenSpacePanning: false, maxPolarAngle: Math.PI * .49, minDistance: model.size * .05, maxDistance: model.size * 8});
    const labels = model.labels.map(l => {
      const e = document.createElement("span"), isolated = document.createElement("bdi");
      isolated.textContent = l.text;
      e.className = "space-label " + l.kind;
      e.append(isolated);
      over.append(e);
      return Object.assign(l, {e, isolated});
    });
    const stem = {pond: 26, outlet: 14, overflow: 14, curb: 4, north: 4}; // as in the style
    let factor = 1, frame = 0;

    const name = () => {
      let ponds = 12; // as many as leave the water to be seen, the worst first
      const taken = [], w = box.clientWidth, h = box.clientHeight, v = new three.Vector3();
      for (const l of labels) {
        v.set(...model.place(l.at, factor)).project(camera);
        const x = (v.x + 1) / 2 * w, y = (1 - v.y) / 2 * h, wide = l.e.offsetWidth, at = {l: clamp(x - wide / 2, Math.min(0, x - 20), Math.max(w - wide, x + 20 - wide)), t: y - l.e.offsetHeight - stem[l.kind]};
        l.e.style.setProperty("--stem", (x - at.l).toFixed(1) + "px");
        at.r = at.l + wide;
        at.b = at.t + l.e.offsetHeight;
        const hidden = l.off || l.kind === "pond" && !ponds || v.z > 1 || at.l < 0 || at.t < 0 || at.r > w || at.b > h || taken.some(o => at.l < o.r && at.r > o.l && at.t < o.b && at.b > o.t);
        l.e.style.visibility = hidden ? "hidden" : "visible";
        l.e.style.transform = `translate(${at.l.toFixed(1)}px,${at.t.toFixed(1)}px)`;
        if (hidden) continue;
        taken.push(at);
        if (l.kind === "pond") ponds--;
      }
    };
    const draw = () => {
      frame = 0;
      if (!box.clientWidth) return;
      renderer.render(model.scene, camera);
      name();
    };
    const ask = () => { frame ||= requestAnimationFrame(draw); };

    // The eye by where it stands from the middle of view: bearing and height in degrees, distance, and that middle.
    const eye = () => {
      const o = camera.position.clone().sub(controls.target), d = o.length();
      return [Math.atan2(o.x, o.y) * 180 / Math.PI, Math.asin(o.z / d) * 180 / Math.PI, d, controls.target.x, controls.target.y];
    };
    const look = ([bearing, height, d, x, y]) => {
      const b = bearing * Math.PI / 180, h = clamp(height, 2, 89.9) * Math.PI / 180;
      controls.target.set(x, y, 0);
      camera.position.set(x + d * Math.cos(h) * Math.sin(b), y + d * Math.cos(h) * Math.cos(b), d * Math.sin(h));
      controls.update();
      ask();
    };
    const raise = f => {
      factor = Math.round(clamp(f, 1, most));
      slider.value = factor;
      said.textContent = factor === 1 ? "true height" : factor + " times";
      slider.setAttribute("aria-valuetext", said.textContent);
      model.exaggerate(factor);
      ask();
    };
    const usual = () => clamp(.07 * model.size / Math.max(model.rise, 1e-3), 1, most);
    const fit = () => {
      camera.aspect = box.clientWidth / Math.max(box.clientHeight, 1);
      camera.updateProjectionMatrix();
      renderer.setSize(box.clientWidth, box.clientHeight, false);
      ask();
    };
    // reset looks from the south, and from where all of the roof just fits.
    const reset = () => {
      fit();
      raise(usual());
      let d = 3 * model.size;
      const v = new three.Vector3();
      for (let i = 0; i < 6; i++) {
        look([200, 40, d, 0, 0]);
        camera.updateMatrixWorld();
        d *= model.corners.reduce((a, c) => {
          v.set(...model.place(c, factor)).project(camera);
          return Math.max(a, Math.abs(v.x), Math.abs(v.y));
        }, 0) / .86;
      }
    };
    const apply = w => {
      if (w.heights) raise(w.heights);
      if (w.eye) look(w.eye);
      slopes.checked = w.slopes;
      wet();
      dye();
    };
    // wet shows the storm's water of the moment that is shown on the map, else the ponds.
    const wet = () => {
      model.flood(standingWater && standingWater.on() ? standingWater : null);
      for (const l of labels) if (l.storm) l.isolated.textContent = l.text;
      ask();
    };
    standingWater?.watch(wet);
    const dye = () => {
      model.colour(slopes.checked);
      ask();
    };

    controls.addEventListener("change", () => { ask(); keep(); });
    slopes.addEventListener("change", () => { dye(); keep(); });
    slider.addEventListener("input", () => { raise(Number(slider.value)); keep(); });
    document.getElementById("space-reset").addEventListener("click", () => { reset(); keep(); });
    const turns = {ArrowLeft: [5, 0, 1], ArrowRight: [-5, 0, 1], ArrowUp: [0, 5, 1], ArrowDown: [0, -5, 1], "+": [0, 0, .9], "=": [0, 0, .9], "-": [0, 0, 1 / .9]};
    box.addEventListener("keydown", e => {
      const t = turns[e.key];
      if (!t || e.ctrlKey || e.altKey || e.metaKey) return;
      e.preventDefault();
      const [b, h, d, x, y] = eye();
      look([b + t[0], h + t[1], clamp(d * t[2], controls.minDistance, controls.maxDistance), x, y]);
      keep();
    });
    canvas.addEventListener("webglcontextlost", () => { view = null; without("The 3-D view was lost: the graphics system ran out of memory."); });
    new ResizeObserver(fit).observe(box);
    return {canvas, model, draw, eye, reset, apply, factor: () => factor};
  };

  // keep waits until the view rests: browsers refuse an address that changes all the time.
  const keep = () => {
    clearTimeout(timer);
    timer = setTimeout(address.keep, 250);
  };
  address.add({
    write() {
      const eye = view ? view.eye() : wanted.eye, heights = view ? view.factor() : wanted.heights;
      return eye && heights ? `eye=${eye.map(v => v.toFixed(2)).join(",")}&heights=${heights}${(view ? slopes.checked : wanted.slopes) ? "&slopes=1" : ""}` : "";
    },
    read(h) {
      const eye = address.numbers(h.get("eye"), 5), heights = address.numbers(h.get("heights"), 1);
      wanted = {eye: eye && eye[2] > 0 ? eye : null, heights: heights && heights[0], slopes: h.get("slopes") === "1"};
      view?.apply(wanted);
    },
  });
  tabs.onOpen("space", () => { starting ||= start().catch(() => without("The 3-D view could not be made in this browser.")); });
  address.restore();
  return {ready: () => starting, view: () => view};
})();
