"use strict";
// The address of the page keeps the view: each part writes what it shows and reads it again.
const address = (() => {
  const parts = [];
  let quiet = true, written = "";
  const keep = () => {
    if (quiet) return;
    written = "#" + parts.map(p => p.write()).filter(Boolean).join("&");
    history.replaceState(null, "", written);
  };
  const restore = () => {
    const h = new URLSearchParams(location.hash.slice(1));
    quiet = true;
    for (const p of parts) p.read(h);
    quiet = false;
  };
  addEventListener("hashchange", () => { if (location.hash !== written && location.hash.includes("=")) restore(); });
  // numbers reads n numbers with commas between, null where the text is something else.
  const numbers = (text, n) => {
    const all = (text || "").split(",").map(Number);
    return text && all.length === n && all.every(Number.isFinite) ? all : null;
  };
  return {add: p => parts.push(p), keep, restore, numbers};
})();
