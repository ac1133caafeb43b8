"use strict";
// Every head of a sortable table becomes a button that sorts by its column.
document.querySelectorAll("table.sortable").forEach(table => {
  const body = table.tBodies[0], heads = [...table.tHead.rows[0].cells].map(c => c.textContent);
  for (const row of body.rows) [...row.cells].forEach((c, i) => { c.dataset.head = heads[i]; c.classList.toggle("blank", /^-?$/.test(c.textContent)); }); // for a narrow page, where a row is a card
  [...table.tHead.rows[0].cells].forEach((head, column) => {
    if (head.textContent === "map") return;
    const button = document.createElement("button");
    button.type = "button";
    head.classList.toggle("number", body.rows[0].cells[column].classList.contains("number"));
    button.textContent = head.textContent;
    head.replaceChildren(button);
    button.addEventListener("click", () => {
      const up = head.getAttribute("aria-sort") !== "ascending";
      for (const h of table.tHead.rows[0].cells) h.removeAttribute("aria-sort");
      head.setAttribute("aria-sort", up ? "ascending" : "descending");
      const rows = [...body.rows].sort((a, b) => {
        const p = a.cells[column], q = b.cells[column];
        const d = p.dataset.value !== undefined ? p.dataset.value - q.dataset.value
          : p.textContent.localeCompare(q.textContent, "en", {numeric: true});
        return up ? d : -d;
      });
      body.append(...rows);
    });
  });
});
{
  const copy = document.getElementById("copy"), lines = document.getElementById("lines"), said = document.getElementById("copied");
  copy.addEventListener("click", () => {
    const select = () => {
      getSelection().selectAllChildren(lines);
      said.textContent = "Selected: copy with the keys of your device.";
    };
    if (!navigator.clipboard) return select();
    navigator.clipboard.writeText(lines.textContent).then(() => { said.textContent = "Copied."; }, select);
  });
}
