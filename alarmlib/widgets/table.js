// @ts-check
// Bulk entry: a row for each element, real inputs in every cell, pasting from a spreadsheet.

import { makeControl } from "./controls.js";
import { h } from "./elements.js";
import { Fold, moreTold } from "./folds.js";

const MOST_COLUMNS = 6;
const NARROW_PX = 736;
const MANY_ROWS = 8;
const LEAVING = "This is no longer in this list. It goes when you leave it.";

// A row is a line of the cells that the next result needs; "More" unfolds the others below it. Wide tables, and any table
// in a narrow window, are drawn as cards: one a row, each cell under its own caption. Where there are many, each begins
// folded: the cells it is known by and those that have something to say.
export class TableView {
  constructor(form, { columns, add_label: addLabel, row_word: word, there }) {
    this.form = form;
    this.columns = columns;
    this.main = columns.filter((column) => !column.more);
    this.word = word;
    this.there = there; // the page on which rows come and go, where that is another
    this.keys = columns[0].control === "choice" ? 2 : 1; // the cells by which a folded row is known
    this.rows = new Map();
    this.body = h("table");
    this.add = h("button", { type: "button", class: "add", click: () => this.addRow() }, addLabel);
    this.all = h("button", { type: "button", class: "all", click: () => this.foldAll() });
    const undo = h("button", { type: "button", class: "undo", click: () => this.undo() }, "Undo the last change");
    this.element = h("div", { class: "table" },
      this.hint = h("p", { class: "help all" }, `Each ${word} opens at its number.`),
      this.body,
      h("p", { class: "help there" }, ...this.elsewhere()),
      h("div", { class: "buttons" }, there ? null : this.add, this.all, undo),
      h("p", { class: "help" }, "You can paste cells copied in a spreadsheet. They fill the table from the cell you are in, to the right and down."));
    this.body.append(h("thead", {}, h("tr", {}, h("th", { scope: "col" }, there ? word[0].toUpperCase() + word.slice(1) : "#"),
      ...this.main.map((column) => this.head(column)), h("td", {}))));
    this.shape = new ResizeObserver(([seen]) => {
      this.element.classList.toggle("cards", this.main.length > MOST_COLUMNS || seen.contentRect.width < NARROW_PX);
    });
    this.shape.observe(this.element);
    this.body.addEventListener("focusout", () => setTimeout(() => this.form.redraw()));
    this.body.addEventListener("paste", (event) => this.paste(event));
    this.draw();
  }

  head(column) {
    return h("th", { scope: "col" }, column.caption, column.help ? h("span", { class: "help", id: this.helpOf(column) }, column.help) : null);
  }

  helpOf(column) {
    return `${this.form.prefix}-help-${this.columns.indexOf(column)}`;
  }

  elsewhere() {
    if (!this.there) return [];
    const { page, title } = this.there;
    return [`To add or remove one, go to `, page ? h("a", { href: `${page}.ipynb`, "data-field": this.form.structure.base }, title) : title, "."];
  }

  draw() {
    const wanted = this.form.model.get("rows");
    for (const [id, row] of this.rows) {
      row.leaving = !wanted.includes(id);
      if (row.leaving && !this.inHand(row)) this.drop(id, row);
    }
    const folded = !this.rows.size && wanted.length > MANY_ROWS;
    let place = this.body.tHead.nextSibling;
    wanted.forEach((id, n) => {
      if (!this.rows.has(id)) {
        this.rows.set(id, this.buildRow(id));
        this.fold(this.rows.get(id), folded);
      }
      const row = this.rows.get(id);
      while (place && this.leavingAt(place)) place = place.nextSibling;
      if (place === row.element) place = place.nextSibling;
      else this.body.insertBefore(row.element, place);
      const name = this.there ? this.form.folding.names?.[id] : "";
      if (row.number !== n + 1 || row.name !== name) this.number(row, n + 1, name);
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
    if (!row.more) return;
    row.more.tell();
    row.more.button.hidden = !row.fields.some((field, n) => this.columns[n].more && !row.cells[n].classList.contains("not-own"));
  }

  // Opens what hides a row, or one of its fields.
  unfoldTo(id) {
    const row = this.rows.get(id) ?? this.rows.get(id.split("/")[0]);
    if (!row) return;
    this.fold(row, false);
    this.offerAll();
    if (this.isMore(row, id)) row.more.turn(true);
  }

  openMore(id) {
    const row = this.rows.get(id.split("/")[0]);
    if (row && this.isMore(row, id)) row.more.begin(true);
  }

  isMore(row, id) {
    return row.fields.some((field, n) => field.id === id && this.columns[n].more);
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
    this.element.classList.toggle("none", !this.rows.size);
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
    const row = { id, fields: [], hints: [], cells: [], number: 0 };
    for (const [n, column] of this.columns.entries()) row.cells.push(this.buildCell(row, column, n));
    row.remove = this.there ? h("span") : h("button", { type: "button", class: "remove", click: () => this.remove(id) }, "Remove");
    row.place = h("span", { class: "place" });
    row.unfold = h("button", { type: "button", class: "unfold", click: () => this.unfoldOrFold(row) });
    const head = h("th", { scope: "row" }, row.place, row.unfold);
    const [shown, rest] = [false, true].map((more) => row.cells.filter((_, n) => Boolean(this.columns[n].more) === more));
    const last = h("td", { class: "last" });
    const line = h("tr", { class: "line" }, head, ...shown, last);
    row.element = h("tbody", { class: "row" }, line);
    if (rest.length) {
      const help = this.form.structure.more;
      const part = h("tr", { class: "rest", id: `${this.form.prefix}-${id}-more` },
        h("td", { colspan: shown.length + 2 }, help ? h("p", { class: "help" }, help) : null, h("div", { class: "grid" }, ...rest)));
      row.more = new Fold(`${this.form.key}/${id}/more`, part, () => this.moreOf(row));
      last.append(row.more.button);
      row.element.append(part);
    }
    last.append(row.remove);
    return row;
  }

  moreOf(row) {
    const text = moreTold(this.form.folding.filled?.[row.id]);
    return { text, label: `${text}: ${this.called(row)}` };
  }

  buildCell(row, column, n) {
    const own = `${this.form.prefix}-${row.id}-${n}`;
    const help = column.help ? `${column.more ? `${own}-help` : this.helpOf(column)} ` : "";
    const control = makeControl({ ...column, rows: 1 }, own, { "aria-describedby": `${help}${own}-hint ${own}-notes` });
    const notes = h("div", { class: "notes", id: `${own}-notes` });
    const hint = h("div", { class: "help", id: `${own}-hint` });
    row.hints.push(hint);
    row.fields.push(this.form.addField(`${row.id}/${column.id}`, column, control, notes));
    if (!column.more) {
      const kind = n < this.keys && !this.there ? "key" : null;
      return h("td", { "data-caption": column.caption, "data-column": n, class: kind }, control.box, hint, notes);
    }
    const told = h("p", { class: "help", id: `${own}-help` }, column.help);
    return h("div", { class: `field ${column.control}`, "data-column": n }, h("label", { for: own }, column.caption), control.box, told, hint, notes);
  }

  called(row) {
    return row.name || `${this.word} ${row.number || "that goes"}`;
  }

  // A row that goes has no number any more.
  number(row, n, name = "") {
    row.number = n;
    row.name = name;
    const called = this.called(row);
    row.place.textContent = name || n || "–";
    row.unfold.textContent = `${called[0].toUpperCase()}${called.slice(1)}`;
    if (!this.there) row.remove.setAttribute("aria-label", `Remove ${called}`);
    row.fields.forEach((field, column) => {
      field.caption = `${this.columns[column].caption}, ${called}`;
      field.control.box.setAttribute("aria-label", field.caption);
    });
  }

  async addRow() {
    const answer = await this.form.link.ask({ kind: "add" });
    this.form.say(answer);
    this.form.outer?.turn(true);
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
    const cell = event.target.closest("[data-column]");
    const row = cell && [...this.rows.values()].find((each) => each.element.contains(cell));
    if (!row) return;
    event.preventDefault();
    const column = Number(cell.dataset.column);
    this.form.say(await this.form.link.ask({ kind: "paste", row: row.id, column, text }));
  }
}
