"use strict";
// The table of roofs: sorted by a column, filtered by name and by the worst finding, some hundred at a time; the map shows what the filter does.
const table = document.getElementById("roofs"), body = table.tBodies[0], rows = [...body.rows], heads = [...table.tHead.rows[0].cells];
const name = document.getElementById("name"), boxes = [...document.querySelectorAll("#filter input[type=checkbox]")], shown = document.getElementById("shown");
for (const row of rows) [...row.cells].forEach((c, i) => {
  if (heads[i].textContent && c.tagName === "TD") c.dataset.head = heads[i].textContent; // for a narrow page, where a row is a card
  c.classList.toggle("blank", /^-?$/.test(c.textContent));
});
heads.forEach((head, column) => {
  if (!head.textContent) return;
  head.classList.toggle("number", rows.some(r => r.cells[column]?.classList.contains("number")));
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = head.textContent;
  head.replaceChildren(button);
  button.addEventListener("click", () => {
    const up = head.getAttribute("aria-sort") !== "ascending";
    for (const h of heads) h.removeAttribute("aria-sort");
    head.setAttribute("aria-sort", up ? "ascending" : "descending");
    rows.sort((a, b) => {
      const p = a.cells[column], q = b.cells[column];
      if (!p || !q) return (p ? 0 : 1) - (q ? 0 : 1); // a roof that was not checked has no figures, and stands last
      const d = p.dataset.value !== undefined && q.dataset.value !== undefined ? p.dataset.value - q.dataset.value : p.textContent.localeCompare(q.textContent, "en", {numeric: true});
      return up ? d : -d;
    });
    body.append(...rows);
    show();
  });
});
const marks = {};
document.querySelectorAll("#map a").forEach(a => { marks[a.dataset.row] = a; });
const said = n => n.toLocaleString("en"); // with commas between the thousands
const step = 200, more = document.getElementById("more");
let most = step; // rows that are shown
const show = () => {
  const text = name.value.trim().toLowerCase(), wanted = new Set(boxes.filter(b => b.checked).map(b => b.value));
  let n = 0;
  for (const row of rows) {
    const fits = wanted.has(row.dataset.class) && row.cells[1].textContent.toLowerCase().includes(text);
    if (fits) n++;
    row.hidden = !fits || n > most;
    const mark = marks[row.id.slice(1)];
    if (mark) mark.toggleAttribute("hidden", !fits);
  }
  const fit = n === rows.length ? `${said(n)} roofs` : `${said(n)} of ${said(rows.length)} roofs that the filter lets through`;
  shown.textContent = n > most ? `The first ${said(most)} of ${fit} are shown.` : n === rows.length ? `All ${said(n)} roofs are shown.` : `${said(n)} of ${said(rows.length)} roofs are shown.`;
  more.hidden = n <= most;
};
more.addEventListener("click", () => { most += step; show(); });
// A mark of the map leads to its row, wherever that stands.
const lead = () => {
  const row = document.getElementById(location.hash.slice(1));
  if (!row || !row.hidden || row.parentNode !== body) return;
  most = Math.max(most, rows.indexOf(row) + 1);
  show();
  row.scrollIntoView();
};
addEventListener("hashchange", lead);
for (const e of [name, ...boxes]) e.addEventListener("input", () => { most = step; show(); });
document.getElementById("filter").addEventListener("submit", e => e.preventDefault());
show();
lead();
