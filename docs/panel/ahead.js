// The card that looks ahead from the time on show: asked of the live simulation while it is open and the time rests.

import { aheadWords } from "./ahead_words.js";
import { exactClock } from "./clock.js";
import { isOpen, make, setText } from "./dom.js";
import { keepPlace } from "./keyboard_place.js";
import { stateWords } from "./runtime_door.js";

const REST_MS = 300;

export class LookingAhead {
  constructor(panel) {
    this.panel = panel;
    this.root = panel.querySelector(".ww-ahead");
    if (!this.root) return;
    this.root.addEventListener("toggle", () => panel.refresh());
    // The line above the pictures says how the live simulation is.
    new MutationObserver(() => panel.refresh()).observe(panel.querySelector(".ww-state"), { attributeFilter: ["data-state"] });
  }

  build() {
    this.note = make("p", { class: "ww-ahead-note", role: "status" });
    this.list = make("dl", { class: "ww-ahead-list" });
    this.root.querySelector(".ww-ahead-body").append(this.note, this.list);
  }

  update({ flight, timeS, units }) {
    if (!this.root || !isOpen(this.root)) return;
    if (!this.list) this.build();
    const { door } = this.panel;
    if (!door.ready) {
      this.rest(`Looking ahead needs the live simulation. ${stateWords(door.state).text}`);
      return;
    }
    if (this.wanted?.flight !== flight || this.wanted.timeS !== timeS) {
      this.wanted = { flight, timeS };
      window.clearTimeout(this.waiting);
      this.say(this.answer ? `As it was at ${exactClock(this.answered.timeS)}. Looking ahead again…` : "Looking ahead…", true);
      this.waiting = window.setTimeout(() => this.ask(), REST_MS);
    }
    if (this.answer && this.units !== units) this.write(units);
  }

  async ask() {
    const { panel, wanted } = this;
    const answer = await panel.door.ahead(panel.aircraftName, panel.source.request(), panel.edits, wanted.timeS);
    if (answer === null || wanted !== this.wanted) return;
    if (answer.problem) {
      this.say(answer.problem, true);
      return;
    }
    [this.answer, this.answered] = [answer.ahead, wanted];
    this.write(panel.units);
    this.say(`From ${exactClock(wanted.timeS)}. What the flight will do is read from it; how long the fuel lasts is flown on from here.`, false);
  }

  /** Without the simulation nothing is asked, and what was asked before is not shown as if it were so now. */
  rest(words) {
    window.clearTimeout(this.waiting);
    this.wanted = null;
    this.say(words, true);
  }

  say(words, old) {
    setText(this.note, words);
    this.list.classList.toggle("ww-old", old);
  }

  write(units) {
    this.units = units;
    const entries = aheadWords(this.answer, this.answered.flight, units).flatMap(({ title, lines }) => [
      make("dt", {}, title),
      ...lines.map((line) => make("dd", {}, line.words, ...this.when(line), line.reason ? make("span", { class: "ww-reason" }, ` ${line.reason}`) : "")),
    ]);
    keepPlace([this.list], () => this.list.replaceChildren(...entries), this.root.querySelector("summary"));
  }

  when({ timeS, part }) {
    if (timeS === undefined) return [];
    const words = exactClock(timeS);
    const button = make("button", { type: "button", class: "ww-link-button", "aria-label": `${words}: go there` }, words);
    button.addEventListener("click", () => {
      this.panel.pause();
      this.panel.goTo(timeS, { part: part ?? null, stepped: true });
    });
    return [button, "."];
  }
}
