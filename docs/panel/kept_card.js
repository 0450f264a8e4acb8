// Kept flights in the card of changes: keep this one by name; show, compare, rename or remove each.

import { make, nextId, setAttribute, setProblem, setText } from "./dom.js";
import { counted } from "./edit_words.js";
import { sameEdits } from "./edits.js";
import { freeName, LONGEST_NAME, withKept } from "./kept_flights.js";
import { KeptEntry } from "./kept_entry.js";
import { KeptStore } from "./kept_store.js";

const REFUSED = "This browser does not let the page store anything, or has no room left: kept flights last until you close the page.";

export class KeptFlights {
  constructor(panel) {
    this.panel = panel;
    this.place = panel.querySelector(".ww-kept");
    if (!this.place) return;
    const { page, aircraft, script } = panel.dataset;
    this.store = new KeptStore(`ww-kept/${page}/${aircraft}/${script}`, () => this.otherTab());
    this.build();
    if (this.store.bad) this.say("Something that was kept on this device can't be read, and is left out.");
  }

  build() {
    const problemId = nextId("ww-kept-problem");
    this.name = make("input", { type: "text", class: "ww-keep-name", maxlength: LONGEST_NAME, autocomplete: "off", "aria-describedby": problemId });
    this.keepButton = make("button", { type: "submit", class: "ww-keep" }, "Keep this flight");
    this.problem = make("p", { class: "ww-problem", id: problemId, role: "alert", hidden: true });
    this.said = make("p", { class: "ww-kept-said", role: "status" });
    this.form = make("form", { class: "ww-keep-form", novalidate: true }, make("label", {}, "Keep as ", this.name), this.keepButton, this.problem);
    this.form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.keep();
    });
    this.list = make("ul", { class: "ww-kept-list", "aria-label": "Kept flights" });
    this.place.append(this.form, this.list, this.said);
    this.list.hidden = true;
  }

  keep() {
    const { panel } = this;
    if (panel.source.own) return this.refuse("Only a flight of the page's own script can be kept here. Save this one as a script instead.");
    const name = this.name.value.trim();
    const flight = { id: `${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 10)}`, name, edits: panel.edits };
    if (!this.change((flights) => withKept(flights, flight))) return undefined;
    this.say(`Kept as ${name}, with ${counted(flight.edits.length)}.`);
    this.name.value = freeName(this.store.flights);
    return undefined;
  }

  /** Change the list, and say what stands against it. @returns {boolean} whether it was done */
  change(change) {
    const { problem, saved } = this.store.change(change);
    this.refuse(problem ?? (saved ? null : REFUSED));
    this.again();
    return problem === null;
  }

  refuse(problem) {
    setText(this.said, "");
    setProblem(this.problem, problem);
    setAttribute(this.name, "aria-invalid", problem && problem !== REFUSED ? "true" : null);
  }

  say(text, ...more) {
    this.said.replaceChildren(text, ...more);
  }

  /** What another tab keeps is listed here too; what is on show stays. */
  otherTab() {
    this.say("Another tab has changed the kept flights. What is on show here stays.");
    this.again();
  }

  again() {
    this.key = null;
    this.panel.refresh();
  }

  // ---- what entries ask for

  async show({ edits }) {
    const { panel } = this;
    if (panel.changes.rest) return panel.changes.rest;
    panel.source.back();
    return panel.inTurn(() => panel.flyWith(edits));
  }

  /** Fly a kept flight without showing it, and lay it behind the one on show; a second time takes it away. */
  async compare({ id, name, edits }) {
    const { panel } = this;
    if (panel.compared?.key === id) {
      panel.compareWith(null);
      return null;
    }
    if (panel.changes.rest) return panel.changes.rest;
    panel.source.back();
    const flown = await panel.flyAside(edits);
    if (flown.problem) return flown.problem;
    panel.compareWith({ flight: flown.flight, name, key: id });
    return null;
  }

  remove(flight) {
    if (this.panel.compared?.key === flight.id) this.panel.compareWith(null);
    if (!this.change((flights) => ({ kept: flights.filter(({ id }) => id !== flight.id) }))) return;
    const back = make("button", { type: "button" }, "Bring it back");
    back.addEventListener("click", () => {
      this.say("");
      if (this.change((flights) => withKept(flights, flight))) this.say(`${flight.name} is back.`);
      this.name.focus({ preventScroll: true });
    });
    this.say(`${flight.name} was removed. `, back);
    back.focus({ preventScroll: true });
  }

  // ---- showing

  update() {
    if (!this.place) return;
    const { edits, compared, recordId } = this.panel;
    const { flights } = this.store;
    const key = [recordId, compared?.id ?? 0, JSON.stringify(flights)].join(" ");
    if (this.key === key || this.list.querySelector(".ww-renaming")) return;
    this.key = key;
    this.place.hidden = edits.length === 0 && flights.length === 0;
    this.form.hidden = edits.length === 0 && !this.problem.textContent;
    if (!this.typedName()) this.name.value = freeName(flights);
    const held = this.list.contains(document.activeElement) ? document.activeElement.closest("[data-kept]")?.dataset.kept : null;
    const field = document.activeElement?.dataset?.field;
    const entries = flights.map((flight) => new KeptEntry(this, flight, { shown: sameEdits(flight.edits, edits), compared: compared?.key === flight.id }));
    this.list.replaceChildren(...entries.map(({ item }) => item));
    this.list.hidden = entries.length === 0;
    if (held) entries.find(({ flight }) => flight.id === held)?.focus(field);
  }

  typedName() {
    return this.name.value !== "" && !/^Flight \d+$/.test(this.name.value);
  }
}
