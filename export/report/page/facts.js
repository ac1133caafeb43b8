"use strict";
// Facts: what a pop-up says of a feature. One sentence, four facts rounded to what they are good to, what to do and who decides; the files
// have the rest, with all digits.
const facts = (() => {
  const whole = v => String(Math.round(v)), some = v => v < 100 ? String(Number(v.toFixed(1))) : whole(v);
  // A property's name ends in its unit.
  const units = {
    mm: v => whole(v) + " mm", in: v => say.eighths(v), m2: v => some(v) + " m²", ft2: v => whole(v) + " sq ft", l: v => whole(v) + " litres", gal: v => whole(v) + " gal", kg: v => whole(v) + " kg",
    lb: v => whole(v) + " lb", kpa: v => v.toFixed(2) + " kPa", psf: v => v.toFixed(1) + " psf", pct: v => v.toFixed(2) + " %", m: v => v.toFixed(1) + " m", ft: v => v.toFixed(1) + " ft",
  };
  const level = {m: v => v.toFixed(3) + " m", ft: v => v.toFixed(2) + " ft"};
  // of returns the text of a property by its name without the unit: a range where only its bounds are known; "" where it is not known.
  const of = (p, name, said = units) => {
    for (const unit in said) {
      const v = p[name + "_" + unit], [low, high] = ["_5", "_95"].map(end => p[name + "_" + unit + end]);
      if (v !== undefined) return said[unit](v);
      if (low !== undefined) {
        const [a, b] = [said[unit](low), said[unit](high)];
        return a === b ? a : a === said[unit](0) ? "up to " + b : a + " to " + b;
      }
    }
    return "";
  };
  const capital = s => s && s[0].toUpperCase() + s.slice(1);

  // For each layer what is told of a feature; named gives what an id is called.
  const told = {
    pond: (p, named) => [["Deep", of(p, "depth")], ["Area", of(p, "area")], [of(p, "weight") ? "Weighs" : "Holds", of(p, "weight") || of(p, "volume")], ["Spills to", named(p.spills_to)]],
    outlet: p => [["Runs to it", of(p, "catchment")], ["Longest way", of(p, "travel_max")], ["Takes water from", of(p, "invert", level) + (p.invert_assumed ? ", assumed" : "")], ["Duty", p.duty]],
    finding: p => [["Where", p.where]],
    plane: p => [["Falls", of(p, "slope")], ["Area", of(p, "area")], ["Criterion", p.below_min ? "under it" : "met"]],
    valley: p => [["Drops", of(p, "drop")], ["Length", of(p, "length")], ["Criterion", p.below_min ? "under it" : "met"]],
    ridge: p => [["Drops", of(p, "drop")], ["Length", of(p, "length")]],
    catchment: (p, named) => [["Runs to", named(p.outlet)], ["Area", of(p, "area")], ["With", p.when === "dry" ? "low places empty" : "every low place full"]],
    flowpath: (p, named) => [["Runs to", named(p.outlet)], ["Length", of(p, "travel")], ["Drops", of(p, "drop")]],
    lip: (p, named) => [["Level", of(p, "level", level)], ["Holds", named(p.pond)]],
    spot: p => [["Elevation", of(p, "elevation", level)]],
    curb: p => [["Height", typeof p.height === "number" ? say.depth(p.height) : ""]],
    edge: p => [["Kind", p.type]],
    core: p => [["Deck", p.deck], ["Level of the deck", of(p, "deck_level", level)]],
    sill: p => [["Level", of(p, "level", level) || of(p, "elevation", level)], ["Kind", p.kind && p.kind.replaceAll("-", " ")]],
    stain: p => [["Note", p.note], ["Hours since rain", p.hours_since_rain]],
    "next-spot": p => [["Where", p.place], ["Why", p.why]],
    "next-core": p => [["Why", p.why]],
    water: p => [["Deep", of(p, "depth")], ["Area", of(p, "area")]],
  };

  // box makes the pop-up of a feature; all are the properties of every feature.
  const box = (p, all) => {
    const out = document.createElement("div"), list = document.createElement("dl");
    out.className = "facts-box";
    const put = (name, text, into) => {
      const e = document.createElement(name), isolated = document.createElement("bdi");
      isolated.textContent = text;
      e.append(isolated);
      into.append(e);
    };
    const named = id => {
      const o = id && all.find(q => q.id === id);
      return o && o.label || (id || "").split(".").pop();
    };
    const more = told[p.layer] ? told[p.layer](p, named) : [];
    const key = p.layer === "pond" ? "pond" : p.layer === "outlet" ? "outlet" : "", finding = p.layer === "finding" ? p : key && all.find(q => q.layer === "finding" && q[key] === p.id && (key === "pond" || !q.pond));
    put("strong", p.layer === "pond" ? `Pond ${named(p.id)}. ${finding ? finding.what : ""}` : p.title || p.id, out);
    if (finding) more.push(["Do", finding.do], ["Decides", finding.decides && "the " + finding.decides.replaceAll(", ", ", the ")]);
    if (p.layer === "finding") more.push(["Why", p.why]); // last: on a phone what to do and who decides are seen before it
    for (const [word, text] of more) {
      if (text === undefined || text === "") continue;
      put("dt", word, list);
      put("dd", capital(String(text)), list);
    }
    out.append(list);
    return out;
  };
  return {box, of};
})();
