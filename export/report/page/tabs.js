"use strict";
// The tabs of the map: buttons that show one panel each; arrow keys go from tab to tab.
const tabs = (() => {
  const buttons = [...document.querySelectorAll("[role=tab]")], watchers = {};
  const nameOf = b => b.id.replace("tab-", "");
  let current = nameOf(buttons[0]);
  const open = name => {
    if (!buttons.some(b => nameOf(b) === name)) return;
    current = name;
    for (const b of buttons) {
      const on = nameOf(b) === name;
      b.setAttribute("aria-selected", String(on));
      b.tabIndex = on ? 0 : -1;
      document.getElementById(b.getAttribute("aria-controls")).hidden = !on;
    }
    watchers[name]?.();
  };
  const press = name => {
    open(name);
    address.keep();
  };
  const steps = {ArrowRight: 1, ArrowLeft: -1};
  buttons.forEach((b, i) => {
    b.addEventListener("click", () => press(nameOf(b)));
    b.addEventListener("keydown", e => {
      if (!steps[e.key]) return;
      e.preventDefault();
      const next = buttons[(i + steps[e.key] + buttons.length) % buttons.length];
      next.focus();
      press(nameOf(next));
    });
  });
  document.querySelector("[role=tablist]").hidden = false;
  address.add({
    write: () => current === nameOf(buttons[0]) ? "" : "tab=" + current,
    read: h => open(h.get("tab") || nameOf(buttons[0])),
  });
  return {open, onOpen(name, f) { watchers[name] = f; }, current: () => current};
})();
