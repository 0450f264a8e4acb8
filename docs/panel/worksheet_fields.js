// The fields of a worksheet: what was typed, what it was read as, what is wrong with it. Nothing that was typed is ever lost.

import { make, setProblem, setText } from "./dom.js";
import { fieldText } from "./field_text.js";
import { amount, isMass } from "./figures.js";
import { entryText, fieldUnit } from "./worksheet_text.js";
import { say } from "./words.js";

const UNIT = { mass: "kg", flow: "kg/h", volume: "L" };

export class WorksheetFields {
  /** `onChange(field)` is called whenever the reader changes one. */
  constructor(section, facts, onChange) {
    this.section = section;
    this.onChange = onChange;
    this.units = "kg";
    this.own = new Map(facts.map((field) => [field.name, this.bind(field)]));
  }

  bind(field) {
    const find = (part) => this.section.querySelector(`#ws-${this.section.dataset.wwKind}-${field.name}${part}`);
    const own = { ...field, entry: find(""), read: find("-read"), problem: find("-problem"), typed: false, given: undefined };
    own.sign = own.entry.parentElement.querySelector(".ww-ws-unit");
    own.entry.addEventListener(field.choices.length ? "change" : "input", () => {
      own.typed = true;
      this.follow(own);
      this.onChange(own);
    });
    if (field.slider) this.addSlider(own);
    return own;
  }

  /** A native slider beside a field: it writes into it. */
  addSlider(own) {
    own.slider = make("input", {
      type: "range", min: String(own.least), max: String(own.most), step: "1", value: String(own.value ?? 0), disabled: true,
      "aria-label": `${own.label}, slider`, class: "ww-ws-slider",
    });
    own.slider.addEventListener("input", () => {
      own.entry.value = entryText(own, Number(own.slider.value), this.units);
      own.typed = true;
      this.onChange(own);
    });
    own.entry.parentElement.after(make("span", { class: "ww-ws-slide" }, own.slider));
  }

  follow(own) {
    if (own.slider && Number.isFinite(own.value)) own.slider.value = String(own.value);
  }

  open(live) {
    for (const own of this.own.values()) {
      if (own.choices.length) own.entry.disabled = !live;
      else own.entry.readOnly = !live;
      if (own.slider) own.slider.disabled = !live;
    }
  }

  /** What was given over the flight's own figures: a text as typed, or a value that was read before. */
  given() {
    const found = {};
    for (const own of this.own.values()) {
      if (own.typed) found[own.name] = own.choices.length ? Number(own.entry.value) : own.entry.value;
      else if (own.given !== undefined) found[own.name] = own.given;
    }
    return found;
  }

  /** Take over values from elsewhere: a file, a moment of the panel. */
  put(values) {
    for (const [name, value] of Object.entries(values)) {
      const own = this.own.get(name);
      Object.assign(own, { typed: false, given: value, value });
      this.write(own);
    }
  }

  /** Back to the flight's own figures. */
  clear() {
    for (const own of this.own.values()) Object.assign(own, { typed: false, given: undefined });
  }

  /** Show an answer: values where nothing was typed, readings and problems beside the rest. @returns {number} how many are wrong */
  show(answered) {
    let wrong = 0;
    for (const { name, value, problem, told } of answered) {
      const own = this.own.get(name);
      if (!problem) own.value = value;
      if (!own.typed) this.write(own);
      setProblem(own.problem, problem ? say(problem, this.units) : null);
      if (problem) own.entry.setAttribute("aria-invalid", "true");
      else own.entry.removeAttribute("aria-invalid");
      const read = own.typed && told && !problem && value !== null ? `read as ${this.words(own, value)}` : "";
      setText(own.read, read);
      own.read.hidden = !read;
      this.follow(own);
      wrong += problem ? 1 : 0;
    }
    for (const under of this.section.querySelectorAll(".ww-ws-under")) under.hidden = !under.querySelector(":scope span:not([hidden])");
    return wrong;
  }

  words(own, value) {
    const unit = UNIT[own.kind];
    if (isMass(unit)) return `${fieldText(value, unit, this.units)} ${fieldUnit(own, this.units)}`;
    if (unit) return `${entryText(own, value, this.units)} ${fieldUnit(own, this.units)}`;
    return own.kind === "density" ? amount(value, "kg/L") : `${entryText(own, value, this.units)} ${own.unit}`;
  }

  write(own) {
    if (own.choices.length) own.entry.value = String(own.value ?? 0);
    else own.entry.value = entryText(own, own.value, this.units);
    if (own.sign) setText(own.sign, fieldUnit(own, this.units));
    this.follow(own);
  }

  /** Write every field in other units; what can't be read stays as it was typed. */
  setUnits(units) {
    this.units = units;
    for (const own of this.own.values()) {
      if (own.typed && own.problem.hidden && !own.choices.length) Object.assign(own, { typed: false, given: own.value });
      if (!own.typed) this.write(own);
      if (own.sign) setText(own.sign, fieldUnit(own, units));
      if (!own.typed) own.read.hidden = true;
    }
  }

  list() {
    return [...this.own.values()].map((own) => ({
      name: own.name, label: own.label, row: own.row, kind: own.kind, unit: own.unit, value: own.value,
      text: own.choices.length ? own.choices[own.value ?? 0] : own.entry.value,
    }));
  }

  firstWrong() {
    return [...this.own.values()].find((own) => !own.problem.hidden)?.entry ?? null;
  }
}
