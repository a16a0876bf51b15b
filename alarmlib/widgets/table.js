// @ts-check
// Bulk entry: a row for each element, real inputs in every cell, pasting from a spreadsheet.

import { makeControl } from "./controls.js";
import { h } from "./elements.js";

const MOST_COLUMNS = 6;
const NARROW_PX = 736;
const MANY_ROWS = 8;
const LEAVING = "This is no longer in this list. It goes when you leave it.";

// Wide tables, and any table in a narrow window, are drawn as cards: one a row, each cell under its own caption. Where
// there are many, each begins folded: the cells it is known by and those that have something to say.
export class TableView {
  constructor(form, { columns, add_label: addLabel, row_word: word }) {
    this.form = form;
    this.columns = columns;
    this.word = word;
    this.keys = columns[0].control === "choice" ? 2 : 1; // the cells by which a folded row is known
    this.rows = new Map();
    this.body = h("tbody");
    this.add = h("button", { type: "button", class: "add", click: () => this.addRow() }, addLabel);
    this.all = h("button", { type: "button", class: "all", click: () => this.foldAll() });
    const undo = h("button", { type: "button", click: () => this.undo() }, "Undo the last change");
    this.element = h("div", { class: "table" },
      this.hint = h("p", { class: "help all" }, `Each ${word} opens at its number.`),
      h("table", {}, h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "#"),
        ...columns.map((column, n) => this.head(column, n)), h("td", {}))), this.body),
      h("div", { class: "buttons" }, this.add, this.all, undo),
      h("p", { class: "help" }, "You can paste cells copied in a spreadsheet. They fill the table from the cell you are in, to the right and down."));
    this.shape = new ResizeObserver(([seen]) => {
      this.element.classList.toggle("cards", columns.length > MOST_COLUMNS || seen.contentRect.width < NARROW_PX);
    });
    this.shape.observe(this.element);
    this.body.addEventListener("focusout", () => setTimeout(() => this.form.redraw()));
    this.body.addEventListener("paste", (event) => this.paste(event));
    this.draw();
  }

  head(column, n) {
    const help = column.help ? h("span", { class: "help", id: `${this.form.prefix}-help-${n}` }, column.help) : null;
    return h("th", { scope: "col" }, column.caption, help);
  }

  draw() {
    const wanted = this.form.model.get("rows");
    for (const [id, row] of this.rows) {
      row.leaving = !wanted.includes(id);
      if (row.leaving && !this.inHand(row)) this.drop(id, row);
    }
    const folded = !this.rows.size && wanted.length > MANY_ROWS;
    let place = this.body.firstChild;
    wanted.forEach((id, n) => {
      if (!this.rows.has(id)) {
        this.rows.set(id, this.buildRow(id));
        this.fold(this.rows.get(id), folded);
      }
      const row = this.rows.get(id);
      while (place && this.leavingAt(place)) place = place.nextSibling;
      if (place === row.element) place = place.nextSibling;
      else this.body.insertBefore(row.element, place);
      if (row.number !== n + 1) this.number(row, n + 1);
      this.showOwn(row);
    });
    for (const row of this.rows.values()) {
      if (!row.leaving) continue;
      this.number(row, 0);
      row.hints[0].textContent = LEAVING;
    }
    this.offerAll();
  }

  // A row that goes stays while somebody is in it, and until what was typed in it is saved or refused.
  inHand(row) {
    if (row.removed) return false;
    const typed = row.fields.some((field) => field.flying || (field.entry && !field.failed));
    return typed || row.element.contains(document.activeElement);
  }

  leavingAt(element) {
    return [...this.rows.values()].some((row) => row.leaving && row.element === element);
  }

  letGo() {
    for (const [id, row] of this.rows) if (row.leaving && !this.inHand(row)) this.drop(id, row);
  }

  // A row has only the cells that belong to it; one in which something is being typed stays.
  showOwn(row) {
    for (const [n, field] of row.fields.entries()) {
      const own = field.id in this.form.values || Boolean(field.entry);
      row.cells[n].classList.toggle("not-own", !own);
      row.hints[n].textContent = this.form.inherited[field.id] ?? "";
    }
  }

  fold(row, folded) {
    row.element.classList.toggle("folded", folded);
    row.unfold.setAttribute("aria-expanded", folded ? "false" : "true");
  }

  get anyFolded() {
    return [...this.rows.values()].some((row) => row.element.classList.contains("folded"));
  }

  offerAll() {
    this.all.textContent = this.anyFolded ? "Unfold all" : "Fold all";
    this.all.hidden = this.hint.hidden = this.rows.size <= MANY_ROWS;
  }

  foldAll() {
    const folded = !this.anyFolded;
    for (const row of this.rows.values()) this.fold(row, folded);
    this.offerAll();
  }

  unfoldOrFold(row) {
    this.fold(row, !row.element.classList.contains("folded"));
    this.offerAll();
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
    const hints = [];
    const cells = this.columns.map((column, n) => {
      const own = `${this.form.prefix}-${id}-${n}`;
      const help = column.help ? `${this.form.prefix}-help-${n} ` : "";
      const control = makeControl({ ...column, rows: 1 }, own, { "aria-describedby": `${help}${own}-hint ${own}-notes` });
      const notes = h("div", { class: "notes", id: `${own}-notes` });
      hints.push(h("div", { class: "help", id: `${own}-hint` }));
      fields.push(this.form.addField(`${id}/${column.id}`, column, control, notes));
      return h("td", { "data-caption": column.caption, class: n < this.keys ? "key" : null }, control.box, hints[n], notes);
    });
    const remove = h("button", { type: "button", class: "remove", click: () => this.remove(id) }, "Remove");
    const place = h("span", { class: "place" });
    const unfold = h("button", { type: "button", class: "unfold", click: () => this.unfoldOrFold(row) });
    const head = h("th", { scope: "row" }, place, unfold);
    const element = h("tr", {}, head, ...cells, h("td", { class: "last" }, remove));
    const row = { id, fields, hints, cells, remove, place, unfold, element };
    return row;
  }

  // A row that goes has no number any more.
  number(row, n) {
    row.number = n;
    const told = n || "that goes";
    row.place.textContent = n || "–";
    row.unfold.textContent = `${this.word[0].toUpperCase()}${this.word.slice(1)} ${told}`;
    row.remove.setAttribute("aria-label", `Remove ${this.word} ${told}`);
    row.fields.forEach((field, column) => {
      field.caption = `${this.columns[column].caption}, ${this.word} ${told}`;
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
    const row = this.rows.get(id);
    row.removed = true;
    const answer = await this.form.link.ask({ kind: "remove", row: id });
    row.removed = answer.ok;
    this.form.say(answer);
    if (answer.ok) ([...this.rows.values()].filter((each) => !each.leaving).sort((a, b) => a.number - b.number)[at]?.remove ?? this.add).focus();
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
