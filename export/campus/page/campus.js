"use strict";
// The table of roofs: sorted by a column, filtered by name and by the worst finding; the map shows what the table does.
const table = document.getElementById("roofs"), body = table.tBodies[0], rows = [...body.rows], heads = [...table.tHead.rows[0].cells];
const name = document.getElementById("name"), boxes = [...document.querySelectorAll("#filter input[type=checkbox]")], shown = document.getElementById("shown");
for (const row of rows) [...row.cells].forEach((c, i) => {
  if (heads[i].textContent && c.tagName === "TD") c.dataset.head = heads[i].textContent; // for a narrow page, where a row is a card
  c.classList.toggle("blank", /^-?$/.test(c.textContent));
});
heads.forEach((head, column) => {
  if (!head.textContent) return;
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
      const d = p.dataset.value !== undefined && q.dataset.value !== undefined ? p.dataset.value - q.dataset.value : p.textContent.localeCompare(q.textContent, "en", {numeric: true});
      return up ? d : -d;
    });
    body.append(...rows);
  });
});
const marks = {};
document.querySelectorAll("#map a").forEach(a => { marks[a.dataset.row] = a; });
const filter = () => {
  const text = name.value.trim().toLowerCase(), wanted = new Set(boxes.filter(b => b.checked).map(b => b.value));
  let n = 0;
  for (const row of rows) {
    const fits = wanted.has(row.dataset.class) && row.cells[1].textContent.toLowerCase().includes(text);
    row.hidden = !fits;
    const mark = marks[row.id.slice(1)];
    if (mark) mark.toggleAttribute("hidden", !fits);
    if (fits) n++;
  }
  shown.textContent = n === rows.length ? `All ${n} roofs are shown.` : `${n} of ${rows.length} roofs are shown.`;
};
for (const e of [name, ...boxes]) e.addEventListener("input", filter);
document.getElementById("filter").addEventListener("submit", e => e.preventDefault());
filter();
