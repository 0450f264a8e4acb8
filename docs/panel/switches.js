// The switches that a page is about. Setting one is an edit of the flight at the time on show.

import { setAttribute, setProblem, setText } from "./dom.js";
import { exactClock } from "./clock.js";
import { figure, KG_PER_LB } from "./figures.js";

export class Switches {
  constructor(panel) {
    this.panel = panel;
    this.own = [...panel.querySelectorAll("[data-control]")].map((block) => this.connect(block));
  }

  connect(block) {
    const part = block.dataset.control;
    const found = { block, part, problem: block.querySelector(".ww-problem") };
    const number = block.querySelector("input[type=number]");
    if (number) {
      Object.assign(found, { number, unit: number.dataset.unit, sign: block.querySelector(".ww-number-unit") });
      [found.least, found.most] = [Number(number.min), Number(number.max)];
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
    const typed = own.number.value.trim();
    const inPounds = own.unit === "kg" && this.panel.units === "lb";
    const value = Number(typed) * (inPounds ? KG_PER_LB : 1);
    if (typed === "" || !Number.isFinite(value) || value < own.least - 0.5 || value > own.most + 0.5) {
      const say = (bound) => figure(bound, own.unit, this.panel.units);
      const sign = inPounds ? "lb" : own.unit;
      setProblem(own.problem, `Write a number from ${say(own.least)} to ${say(own.most)} ${sign}.`);
      return;
    }
    const rounded = Math.min(Math.max(Math.round(value), own.least), own.most);
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
    const inPounds = own.unit === "kg" && units === "lb";
    setText(own.sign, inPounds ? "lb" : own.unit);
    const key = `${setting} ${units}`;
    if (own.key === key || document.activeElement === own.number) return;
    own.key = key;
    const bound = (value) => Math.round(inPounds ? value / KG_PER_LB : value);
    own.number.min = bound(own.least);
    own.number.max = bound(own.most);
    own.number.value = bound(Number.parseFloat(setting));
    own.number.setAttribute("aria-label", `${own.block.querySelector("legend").textContent}, ${inPounds ? "lb" : own.unit}`);
  }
}

/** Say what an edit does, for lists. */
export function editWords(flight, edit) {
  const part = flight.parts.get(edit.part);
  const isSetting = part?.settings.includes(edit.state) || part?.quantity;
  const joins = isSetting || edit.state === "mended" ? (isSetting ? " to" : "") : ":";
  return `${exactClock(edit.time_s)}: ${flight.label(edit.part)}${joins} ${edit.state}`;
}
