// The bar at the foot of the class view: freeze, reveal, what is covered, the keys, and what else is shown.

import { CLOSING, KEYS } from "./class_keys.js";
import { make, nextId, setAttribute, setText } from "./dom.js";

export class ClassBar {
  /** @param {object} acts what the buttons do: { freeze, reveal, every(checked), screen, leave }, and where there is one { code, switches } */
  constructor(covers, acts) {
    this.freezeButton = button("Freeze", acts.freeze);
    this.freezeButton.setAttribute("aria-pressed", "false");
    this.keys = make("div", { class: "ww-keys", hidden: true }, keyList(), make("p", {}, "In a field that you write in, and in a list, the keys write and choose as usual."));
    this.covers = make("div", { class: "ww-cover-fold", hidden: true }, covers.choice());
    const every = make("input", { type: "checkbox", class: "ww-class-every" });
    every.addEventListener("change", () => acts.every(every.checked));
    const tools = [
      this.freezeButton,
      button("Reveal", acts.reveal),
      this.opener("Cover", this.covers),
      make("label", { class: "ww-cover-choice" }, every, " Every label and row"),
      (this.keysButton = this.opener("Keys", this.keys)),
    ];
    if (acts.switches) tools.splice(3, 0, switchOpener(acts.switches));
    if (acts.code) tools.push(button("QR code", acts.code));
    if (document.fullscreenEnabled) tools.push((this.screen = button("Full screen", acts.screen)));
    tools.push(button("Leave class view", acts.leave));
    this.element = make(
      "div", { class: "ww-class-bar", role: "group", "aria-label": "Class view" },
      this.keys, this.covers, make("div", { class: "ww-class-tools" }, ...tools),
    );
  }

  /** A button that shows and hides what stands over the bar; what another has opened makes room. */
  opener(words, opened) {
    opened.id = nextId("ww-class-fold");
    const own = make("button", { type: "button", class: "ww-class-opener", "aria-expanded": "false", "aria-controls": opened.id }, words);
    const show = (shown) => {
      opened.hidden = !shown;
      setAttribute(own, "aria-expanded", String(shown));
    };
    this.folds = [...(this.folds ?? []), { opened, show }];
    own.addEventListener("click", () => {
      for (const fold of this.folds) fold.show(fold.opened === opened && opened.hidden);
    });
    return own;
  }

  frozen(on) {
    setAttribute(this.freezeButton, "aria-pressed", String(on));
  }

  whole(on) {
    if (this.screen) setText(this.screen, on ? "Leave full screen" : "Full screen");
  }

  showKeys() {
    this.keysButton.click();
  }
}

function button(words, act) {
  const own = make("button", { type: "button" }, words);
  own.addEventListener("click", act);
  return own;
}

/** Where there are many switches they are shown on demand: they would take what the drawing needs. */
function switchOpener(act) {
  const own = make("button", { type: "button", class: "ww-class-opener", "aria-expanded": "false" }, "Switches");
  own.addEventListener("click", () => setAttribute(own, "aria-expanded", String(act())));
  return own;
}

function keyList() {
  const rows = [...KEYS, CLOSING].flatMap(({ shown, words }) => [make("dt", {}, shown), make("dd", {}, words)]);
  return make("dl", {}, ...rows);
}
