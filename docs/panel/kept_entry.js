// One kept flight in its list: show it, compare with it, rename it, remove it.

import { make, nextId, setProblem } from "./dom.js";
import { counted } from "./edit_words.js";
import { LONGEST_NAME, renamed } from "./kept_flights.js";

export class KeptEntry {
  constructor(card, flight, { shown, compared }) {
    [this.card, this.flight] = [card, flight];
    const { name, edits } = flight;
    this.problem = make("p", { class: "ww-problem", id: nextId("ww-kept-entry"), role: "alert", hidden: true });
    const where = `${counted(edits.length)}${shown ? "; on show now" : ""}${compared ? "; the shadow behind the flight on show" : ""}`;
    this.title = make("span", { class: "ww-kept-name" }, make("strong", {}, name), ` ${where}`);
    this.buttons = make(
      "span", { class: "ww-kept-buttons" },
      this.button("Show", "show", () => this.told(card.show(flight)), { disabled: shown }),
      this.button("Compare", "compare", () => this.told(card.compare(flight)), { "aria-pressed": String(compared) }),
      this.button("Rename", "rename", () => this.rename()),
      this.button("Remove", "remove", () => card.remove(flight)),
    );
    this.item = make("li", { "data-kept": flight.id }, this.title, this.buttons, this.problem);
  }

  button(words, field, work, given = {}) {
    const button = make("button", { type: "button", "aria-label": `${words} ${this.flight.name}`, "data-field": field, ...given }, words);
    button.addEventListener("click", work);
    return button;
  }

  focus(field) {
    const found = this.item.querySelector(`[data-field="${field}"]:not([disabled])`) ?? this.item.querySelector("button:not([disabled])");
    found.focus({ preventScroll: true });
  }

  async told(work) {
    setProblem(this.problem, null);
    const problem = await work;
    if (problem) setProblem(this.problem, problem);
  }

  rename() {
    const field = make("input", {
      type: "text", value: this.flight.name, maxlength: LONGEST_NAME, autocomplete: "off",
      "aria-label": `New name of ${this.flight.name}`, "aria-describedby": this.problem.id,
    });
    const form = make("form", { class: "ww-renaming", novalidate: true }, field, make("button", { type: "submit" }, "Save name"), this.button("Cancel", "cancel", () => this.leave(form)));
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.save(form, field);
    });
    form.addEventListener("keydown", (event) => event.key === "Escape" && this.leave(form));
    this.title.replaceWith(form);
    this.buttons.hidden = true;
    field.focus();
    field.select();
  }

  save(form, field) {
    const name = field.value.trim();
    const { problem } = renamed(this.card.store.read(), this.flight.id, name);
    if (problem) {
      setProblem(this.problem, problem);
      field.setAttribute("aria-invalid", "true");
      return;
    }
    this.leave(form);
    this.card.change((flights) => renamed(flights, this.flight.id, name));
    this.card.say(`Renamed to ${name}.`);
  }

  leave(form) {
    form.replaceWith(this.title);
    setProblem(this.problem, null);
    this.buttons.hidden = false;
    this.focus("rename");
    this.card.again();
  }
}
