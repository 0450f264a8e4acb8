// The switches that a page is about. Setting one is an edit of the flight at the time on show.

import { setAttribute, setProblem, setText } from "./dom.js";
import { exactClock } from "./clock.js";
import { exactMass, figure, fromUnits, isMass, unitWord } from "./figures.js";
import { chosenForm, readNumber } from "./numbers.js";

export class Switches {
  constructor(panel) {
    this.panel = panel;
    this.own = [...panel.querySelectorAll("[data-control]")].map((block) => this.connect(block));
  }

  connect(block) {
    const part = block.dataset.control;
    const found = { block, part, problem: block.querySelector(".ww-problem") };
    const number = block.querySelector("input[data-least]");
    if (number) {
      Object.assign(found, { number, unit: number.dataset.unit, sign: block.querySelector(".ww-number-unit") });
      [found.least, found.most] = [Number(number.dataset.least), Number(number.dataset.most)];
      const set = () => this.setNumber(found);
      block.querySelector("button").addEventListener("click", set);
      number.addEventListener("keydown", (event) => event.key === "Enter" && set());
      return found;
    }
    found.choice = block.querySelector("select");
    found.radios = [...block.querySelectorAll("input[type=radio]")];
    block.addEventListener("change", (event) => this.set(found, event.target.value));
    return found;
  }

  async set(own, state) {
    setProblem(own.problem, null);
    const problem = await this.panel.edit({ part: own.part, state });
    if (problem) setProblem(own.problem, problem);
    this.panel.refresh();
  }

  setNumber(own) {
    const { units } = this.panel;
    const read = readNumber(own.number.value);
    const value = isMass(own.unit) ? fromUnits(read.value, units) : read.value;
    if (read.problem || value < own.least - 0.5 || value > own.most + 0.5) {
      const say = (bound) => figure(bound, own.unit, units);
      const range = `from ${say(own.least)} to ${say(own.most)} ${unitWord(own.unit, units)}.`;
      setProblem(own.problem, read.problem ? `${read.problem} It may be ${range}` : `${figure(value, own.unit, units)} ${unitWord(own.unit, units)} is out of range. Write a number ${range}`);
      return;
    }
    const rounded = Math.min(Math.max(Math.round(value), own.least), own.most);
    // What was typed is written again as the page writes it.
    own.key = null;
    this.set(own, `${rounded} ${own.unit}`);
  }

  /** Whether switches work now, and if not why. */
  allow(allowed, reason) {
    for (const { block } of this.own) {
      block.disabled = !allowed;
      setAttribute(block, "title", allowed ? null : reason);
    }
  }

  update({ moment, units, timeS }) {
    for (const own of this.own) {
      const setting = moment.setting(own.part);
      if (own.number) this.showNumber(own, setting, units);
      if (own.choice && own.choice.value !== setting) own.choice.value = setting;
      for (const radio of own.radios ?? []) if (radio.checked !== (radio.value === setting)) radio.checked = radio.value === setting;
      if (own.shownAt !== undefined && own.shownAt !== timeS) setProblem(own.problem, null);
      own.shownAt = timeS;
    }
  }

  showNumber(own, setting, units) {
    setText(own.sign, unitWord(own.unit, units));
    const key = [setting, units, chosenForm()].join(" ");
    if (own.key === key || document.activeElement === own.number) return;
    own.key = key;
    const value = Number.parseFloat(setting);
    own.number.value = isMass(own.unit) ? exactMass(value, units) : figure(value, own.unit, units);
    own.number.setAttribute("aria-label", `${own.block.querySelector("legend").textContent}, ${unitWord(own.unit, units)}`);
  }
}
