// The level of a page: guided, faded, or challenge. What a level leaves out stays one press away, or waits for the next level down.

import { kept, make, nextId, setText } from "./dom.js";

export const LEVELS = {
  guided: ["Guided", "Moments and hints are open."],
  faded: ["Faded", "Hints are folded, and each moment asks before it tells."],
  challenge: ["Challenge", "No hints and no guided moments: the questions alone. Find it, under Troubles, hides a trouble besides."],
};
const PLAIN_QUESTION = "What happens here, and why?";

/** Offer the levels on a page that has something to fold: guided moments or hints. */
export function startLevels(root = document) {
  const moments = [...root.querySelectorAll(".ww-moments > .ww-moment")].map((item) => new GuidedMoment(item));
  const hints = [...root.querySelectorAll("details.ww-hint")];
  const place = root.querySelector(".ww-objectives");
  if (!place || moments.length + hints.length === 0) return;
  new Levels(place, moments, hints);
}

class Levels {
  constructor(place, moments, hints) {
    Object.assign(this, { moments, hints });
    this.key = `ww-level:${window.location.pathname.split("/").slice(-2).join("/")}`;
    this.words = make("span", { class: "ww-level-words", role: "status" });
    const name = nextId("ww-level");
    this.choices = Object.entries(LEVELS).map(([value, [words]]) => {
      const radio = make("input", { type: "radio", name, value });
      radio.addEventListener("change", () => {
        kept.write(this.key, value);
        this.set(value);
      });
      return { radio, label: make("label", {}, radio, make("span", {}, words)) };
    });
    const choice = make("div", { class: "ww-seg" }, ...this.choices.map(({ label }) => label));
    place.after(make("fieldset", { class: "ww-levels" }, make("legend", {}, "Level"), choice, this.words));
    this.rests = [...document.querySelectorAll("ol.ww-moments")].map((list) => {
      const note = make("p", { class: "ww-level-rest", hidden: true }, "The guided moments rest at this level.");
      list.before(note);
      return { list, note };
    });
    const before = kept.read(this.key);
    this.set(Object.hasOwn(LEVELS, before) ? before : "guided");
  }

  set(level) {
    for (const { radio } of this.choices) radio.checked = radio.value === level;
    setText(this.words, LEVELS[level][1]);
    for (const moment of this.moments) moment.ask(level === "faded");
    for (const { list, note } of this.rests) [list.hidden, note.hidden] = [level === "challenge", level !== "challenge"];
    for (const hint of this.hints) [hint.open, hint.hidden] = [level === "guided", level === "challenge"];
  }
}

/** One guided moment: its button says what happens, or only asks. */
class GuidedMoment {
  constructor(item) {
    const link = item.querySelector(".ww-go");
    this.title = link.querySelector("strong");
    this.question = make("strong", { class: "ww-moment-ask", hidden: true }, item.dataset.wwAsk ?? PLAIN_QUESTION);
    this.title.after(this.question);
    const first = link.closest(".ww-moment > *");
    this.text = make("div", { class: "ww-moment-text", id: nextId("ww-moment") });
    this.told = make("p", { class: "ww-moment-told", hidden: true }, make("strong", {}, ...[...this.title.cloneNode(true).childNodes]));
    this.more = make("button", { type: "button", class: "ww-moment-more", "aria-expanded": "false", "aria-controls": this.text.id, hidden: true }, "Show what happens");
    this.more.addEventListener("click", () => this.open(this.text.hidden));
    const rest = [...item.children].slice([...item.children].indexOf(first) + 1);
    this.text.append(this.told, ...rest);
    item.append(this.more, this.text);
  }

  ask(asks) {
    this.asks = asks;
    [this.title.hidden, this.question.hidden, this.told.hidden, this.more.hidden] = [asks, !asks, !asks, !asks];
    this.open(!asks);
  }

  open(opens) {
    this.text.hidden = !opens;
    this.more.setAttribute("aria-expanded", String(opens));
  }
}
