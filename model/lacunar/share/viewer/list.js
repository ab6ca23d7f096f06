// The list of pieces: the line of the one that is chosen, a field to find one, another design's list.

class PartList {
  constructor(root, choose) {
    this.rows = root.querySelector(".figure-rows");
    this.kept = [[...this.rows.childNodes], ...[...root.querySelectorAll("template")].map((one) => [...one.content.childNodes])];
    this.rows.addEventListener("click", (event) => {
      const row = event.target.closest("[data-part]");
      if (!row) return;
      event.preventDefault();
      choose(row.dataset.part);
    });
    const label = document.createElement("label");
    label.className = "figure-find";
    label.append("find a piece ", (this.field = document.createElement("input")));
    this.field.type = "search";
    this.field.addEventListener("input", () => this.find());
    root.querySelector(".figure-rows").before(label);
  }

  use(number) {
    this.rows.replaceChildren(...this.kept[number]);
    this.chosen = null;
    if (this.field.value) this.find();
  }

  find() {
    const wanted = this.field.value.trim().toLowerCase();
    for (const fold of this.rows.children) {
      let n = 0;
      for (const row of fold.querySelectorAll("[data-part]")) {
        row.hidden = !row.textContent.toLowerCase().includes(wanted);
        n += !row.hidden;
      }
      fold.hidden = n === 0;
      fold.open = wanted !== "" && n > 0;
    }
  }

  rowOf(name) {
    return this.rows.querySelector(`[data-part="${CSS.escape(name)}"]`);
  }

  /** Marks a piece's line and brings it into the list's window; what the line says, or null where there is none. */
  show(name) {
    this.chosen?.classList.remove("chosen");
    this.chosen?.querySelector("a").removeAttribute("aria-current");
    this.chosen = name === null ? null : this.rowOf(name);
    if (!this.chosen) return null;
    const row = this.chosen, fold = row.closest("details");
    fold.open = true;
    fold.hidden = row.hidden = false;
    row.classList.add("chosen");
    row.querySelector("a").setAttribute("aria-current", "true");
    // Only the list's own window moves, not the page under the figure.
    const top = row.getBoundingClientRect().top - this.rows.getBoundingClientRect().top + this.rows.scrollTop;
    this.rows.scrollTop = top - this.rows.clientHeight / 2;
    const [what, size, price] = [...row.querySelectorAll("td")].map((cell) => cell.textContent);
    return `${name}: ${what}, ${size}, ${/^\S+ [\d,.]+$/.test(price) ? `about ${price}` : price}`;
  }
}
