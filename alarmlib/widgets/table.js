// Bulk entry: a row for each element, real inputs in every cell, pasting from a spreadsheet.

const MOST_COLUMNS = 6;
const NARROW_PX = 736;

// Wide tables, and any table in a narrow window, are drawn as cards: one a row, each cell under its own caption.
class TableView {
  constructor(form, { columns, add_label: addLabel, row_word: word }) {
    this.form = form;
    this.columns = columns;
    this.word = word;
    this.rows = new Map();
    this.body = h("tbody");
    this.add = h("button", { type: "button", class: "add", click: () => this.addRow() }, addLabel);
    const undo = h("button", { type: "button", click: () => this.undo() }, "Undo the last change");
    this.element = h("div", { class: "table" },
      h("table", {}, h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "#"),
        ...columns.map((column, n) => this.head(column, n)), h("td", {}))), this.body),
      h("div", { class: "buttons" }, this.add, undo),
      h("p", { class: "help" }, "Cells copied in a spreadsheet can be pasted here, from the cell you are in to the right and down."));
    this.shape = new ResizeObserver(([seen]) => {
      this.element.classList.toggle("cards", columns.length > MOST_COLUMNS || seen.contentRect.width < NARROW_PX);
    });
    this.shape.observe(this.element);
    this.body.addEventListener("paste", (event) => this.paste(event));
    this.draw();
  }

  head(column, n) {
    const help = column.help ? h("span", { class: "help", id: `${this.form.prefix}-help-${n}` }, column.help) : null;
    return h("th", { scope: "col" }, column.caption, help);
  }

  draw() {
    const wanted = this.form.model.get("rows");
    for (const [id, row] of this.rows) if (!wanted.includes(id)) this.drop(id, row);
    wanted.forEach((id, n) => {
      if (!this.rows.has(id)) this.rows.set(id, this.buildRow(id));
      const row = this.rows.get(id);
      if (this.body.children[n] !== row.element) this.body.insertBefore(row.element, this.body.children[n] ?? null);
      if (row.number !== n + 1) this.number(row, n + 1);
    });
  }

  drop(id, row) {
    row.element.remove();
    this.rows.delete(id);
    for (const field of row.fields) {
      if (field.entry) this.form.said = `✗ ${field.caption} was removed elsewhere; “${field.entry.text}” was not saved.`;
      field.keep(null);
      this.form.fields.delete(field.id);
    }
  }

  buildRow(id) {
    const fields = [];
    const cells = this.columns.map((column, n) => {
      const own = `${this.form.prefix}-${id}-${n}`;
      const help = column.help ? `${this.form.prefix}-help-${n} ` : "";
      const control = makeControl({ ...column, rows: 1 }, own, { "aria-describedby": `${help}${own}-notes` });
      const notes = h("div", { class: "notes", id: `${own}-notes` });
      fields.push(this.form.addField(`${id}/${column.id}`, column, control, notes));
      return h("td", { "data-caption": column.caption }, control.box, notes);
    });
    const remove = h("button", { type: "button", class: "remove", click: () => this.remove(id) }, "Remove");
    const head = h("th", { scope: "row", "data-word": this.word });
    return { id, fields, remove, head, element: h("tr", {}, head, ...cells, h("td", { class: "last" }, remove)) };
  }

  number(row, n) {
    row.number = n;
    row.head.textContent = n;
    row.remove.setAttribute("aria-label", `Remove ${this.word} ${n}`);
    row.fields.forEach((field, column) => {
      field.caption = `${this.columns[column].caption}, ${this.word} ${n}`;
      field.control.box.setAttribute("aria-label", field.caption);
    });
  }

  async addRow() {
    const answer = await this.form.link.ask({ kind: "add" });
    this.form.say(answer);
    this.rows.get(answer.row)?.fields[0].control.focus();
  }

  async remove(id) {
    const at = [...this.rows.keys()].indexOf(id);
    const answer = await this.form.link.ask({ kind: "remove", row: id });
    this.form.say(answer);
    if (answer.ok) ([...this.rows.values()].sort((a, b) => a.number - b.number)[at]?.remove ?? this.add).focus();
  }

  async undo() {
    this.form.say(await this.form.link.ask({ kind: "undo" }));
  }

  async paste(event) {
    const text = event.clipboardData.getData("text/plain").replace(/\r\n?/g, "\n");
    if (!/[\t\n]/.test(text.replace(/\n+$/, ""))) return;
    const cell = event.target.closest("td");
    const row = [...this.rows.values()].find((each) => each.element.contains(cell));
    if (!row) return;
    event.preventDefault();
    const column = [...row.element.querySelectorAll("td")].indexOf(cell);
    this.form.say(await this.form.link.ask({ kind: "paste", row: row.id, column, text }));
  }
}
