// The form of a script's figures: loads, fuel, air, levels, lengths of phases. What the reader typed is never lost.

import { make, nextId, setProblem, setText } from "./dom.js";
import { fieldText, fieldValue } from "./field_text.js";
import { unitWord } from "./figures.js";

export class InputsForm {
  /** `onFly(inputs)` answers with a problem { problem, place } or null. */
  constructor(panel, onFly) {
    this.panel = panel;
    this.onFly = onFly;
    this.fields = new Map();
    this.groups = make("div", { class: "ww-inputs" });
    this.problem = make("p", { class: "ww-problem", role: "alert", hidden: true });
    this.told = make("p", { class: "ww-inputs-told", role: "status" });
    const fly = make("button", { type: "submit", class: "ww-primary" }, "Fly with these figures");
    const back = make("button", { type: "button" }, "Back to the script's figures");
    back.addEventListener("click", () => this.goBack());
    this.form = make("form", { novalidate: true }, this.groups, make("p", { class: "ww-bench-row" }, fly, back), this.problem, this.told);
    this.form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.fly();
    });
    this.form.addEventListener("input", () => this.tell());
  }

  /** Lay the form out for the figures of a script. */
  lay(inputs, units) {
    this.units = units;
    this.fields.clear();
    this.flown = {};
    const groups = new Map();
    for (const input of inputs) {
      if (!groups.has(input.group)) groups.set(input.group, make("fieldset", { class: "ww-input-group" }, make("legend", {}, input.group)));
      groups.get(input.group).append(this.field(input));
    }
    this.groups.replaceChildren(...groups.values());
    setProblem(this.problem, null);
    this.tell();
  }

  field(input) {
    const [id, problemId] = [nextId("ww-input"), nextId("ww-input-problem")];
    const entry = make("input", { type: "text", inputmode: "decimal", autocomplete: "off", id, "aria-describedby": problemId });
    const own = { ...input, entry, sign: make("span", { class: "ww-input-unit" }), problem: make("span", { class: "ww-problem", id: problemId, role: "alert", hidden: true }) };
    own.was = make("span", { class: "ww-input-was" });
    this.fields.set(input.key, own);
    this.show(own, input.value);
    return make("p", { class: "ww-input" }, make("label", { for: id }, input.label), make("span", { class: "ww-input-entry" }, entry, own.sign), own.was, own.problem);
  }

  text(own, value) {
    return fieldText(value, own.unit, this.units);
  }

  show(own, value) {
    own.entry.value = this.text(own, value);
    setText(own.sign, unitWord(own.unit, this.units));
  }

  /** What a field says, in the script's unit; the script's own figure where nothing was typed. */
  read(own) {
    if (own.entry.value.trim() === this.text(own, own.value)) return own.value;
    // A figure that is flown comes back as it was given, and not as it is rounded for the field.
    if (own.key in this.flown && own.entry.value.trim() === this.text(own, this.flown[own.key])) return this.flown[own.key];
    return fieldValue(own.entry.value, own.unit, this.units);
  }

  setUnits(units) {
    if (units === this.units) return;
    const read = [...this.fields.values()].map((own) => [own, this.read(own)]);
    this.units = units;
    for (const [own, value] of read) if (Number.isFinite(value)) this.show(own, value);
    this.tell();
  }

  /** The figures that differ from the script's; null where one is none, which is said beside it. */
  changed() {
    const inputs = {};
    let wrong = null;
    for (const own of this.fields.values()) {
      const value = this.read(own);
      const fits = Number.isFinite(value) && value >= own.least - 1e-9 && value <= own.most + 1e-9;
      // How much a tank takes depends on the fuel: the simulation says that.
      const judgedLater = own.key.startsWith("initial.tanks.") && own.unit === "kg" && value > own.most;
      if (value === own.value || fits || judgedLater) this.refuse(own, null);
      else {
        this.refuse(own, `Write a number from ${this.text(own, own.least)} to ${this.text(own, own.most)} ${own.sign.textContent}.`);
        wrong ??= own;
      }
      if (value !== own.value) inputs[own.key] = value;
    }
    wrong?.entry.focus();
    return wrong ? null : inputs;
  }

  refuse(own, problem) {
    setProblem(own.problem, problem);
    if (problem) own.entry.setAttribute("aria-invalid", "true");
    else own.entry.removeAttribute("aria-invalid");
  }

  async fly() {
    setProblem(this.problem, null);
    const inputs = this.changed();
    if (!inputs) return;
    const found = await this.onFly(inputs);
    if (!found) {
      this.flown = inputs;
      this.tell();
      return;
    }
    const own = [...this.fields.values()].find(({ key }) => found.place.endsWith(`: ${key}`));
    if (own) {
      this.refuse(own, found.problem.slice(found.problem.indexOf(own.key) + own.key.length + 2));
      own.entry.focus();
    } else {
      setProblem(this.problem, found.problem);
    }
  }

  goBack() {
    for (const own of this.fields.values()) {
      this.show(own, own.value);
      this.refuse(own, null);
    }
    this.fly();
  }

  /** Fill in figures that are flown already. */
  fill(inputs) {
    this.flown = inputs;
    for (const own of this.fields.values()) this.show(own, inputs[own.key] ?? own.value);
    this.tell();
  }

  /** Say which figures differ from the script's, and whether they are flown. */
  tell() {
    let [changed, waiting] = [0, 0];
    for (const own of this.fields.values()) {
      const value = this.read(own);
      const differs = value !== own.value;
      changed += differs ? 1 : 0;
      waiting += value !== (this.flown[own.key] ?? own.value) ? 1 : 0;
      setText(own.was, differs ? `script: ${this.text(own, own.value)}` : "");
    }
    const figures = (count) => (count === 1 ? "One figure" : `${count} figures`);
    const differ = `${figures(changed)} ${changed === 1 ? "differs" : "differ"} from the script.`;
    const wait = `${figures(waiting)} not flown yet.`;
    setText(this.told, [changed ? differ : "", waiting ? wait : ""].join(" ").trim());
  }
}
