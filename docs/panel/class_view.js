// The class view: the panel large over the page, in large letters, with a frozen picture, covers, and keys for a clicker.

import { CLOSING, KEYS, keyAction, placeOf } from "./class_keys.js";
import { Covers } from "./cover.js";
import { make, nextId, setAttribute, setText } from "./dom.js";
import { Frozen } from "./frozen.js";

export class ClassView {
  constructor(panel) {
    this.panel = panel;
    this.button = make("button", { type: "button", class: "ww-class-open" }, "Class view");
    this.button.addEventListener("click", () => this.open());
    shareRow(panel).prepend(this.button);
  }

  get on() {
    return this.dialog?.isConnected ?? false;
  }

  open() {
    const { panel } = this;
    if (this.on) return;
    this.covers ??= new Covers(panel, () => this.frozen.on && this.reveal());
    this.frozen ??= new Frozen(panel, () => this.reveal());
    this.scrollY = window.scrollY;
    const height = panel.getBoundingClientRect().height;
    this.dialog = make("dialog", { class: "ww-class", "aria-label": "Class view" });
    // The page behind keeps its length, so that it is found again as it was left.
    this.place = make("div", { style: `height:${Math.round(height)}px` });
    panel.before(this.place, this.dialog);
    this.dialog.append(panel);
    panel.setAttribute("data-class", "");
    this.bar = this.makeBar();
    panel.append(this.bar);
    this.dialog.addEventListener("keydown", (event) => this.key(event), true);
    this.dialog.addEventListener("close", () => this.dialog.open || this.leave());
    this.whole = () => this.wholeScreen();
    document.addEventListener("fullscreenchange", this.whole);
    this.dialog.showModal();
    panel.querySelector(".ww-next").focus({ preventScroll: true });
    this.dialog.scrollTop = 0;
    panel.refresh();
  }

  /** Back to the page as it was. Nothing stays covered or frozen. */
  leave() {
    const { panel } = this;
    if (!this.on) return;
    this.frozen.thaw();
    this.covers.clear();
    document.removeEventListener("fullscreenchange", this.whole);
    if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
    this.bar.remove();
    panel.removeAttribute("data-class");
    this.place.replaceWith(panel);
    this.dialog.remove();
    window.scrollTo({ top: this.scrollY, behavior: "instant" });
    this.button.focus({ preventScroll: true });
    panel.refresh();
  }

  makeBar() {
    const button = (words, act) => {
      const own = make("button", { type: "button" }, words);
      own.addEventListener("click", act);
      return own;
    };
    const id = nextId("ww-keys");
    this.freezeButton = button("Freeze", () => this.freeze());
    this.freezeButton.setAttribute("aria-pressed", "false");
    this.keysButton = button("Keys", () => this.showKeys());
    Object.entries({ "aria-expanded": "false", "aria-controls": id }).forEach(([name, value]) => this.keysButton.setAttribute(name, value));
    const rows = [...KEYS, CLOSING].flatMap(({ shown, words }) => [make("dt", {}, shown), make("dd", {}, words)]);
    this.keys = make("div", { class: "ww-keys", id, hidden: true },
      make("dl", {}, ...rows),
      make("p", {}, "In a field that you write in, and in a list, the keys write and choose as usual."));
    const tools = [this.freezeButton, button("Reveal", () => this.reveal()), this.covers.choice(), this.keysButton];
    const qr = this.panel.pieces.find((piece) => piece.showCode);
    if (qr) tools.push(button("QR code", () => qr.showCode()));
    const fit = make("input", { type: "checkbox" });
    fit.addEventListener("change", () => {
      this.panel.setAttribute("data-class", fit.checked ? "fit" : "");
      this.panel.refresh();
    });
    tools.push(make("label", { class: "ww-cover-choice" }, fit, " Whole drawing on the screen"));
    if (document.fullscreenEnabled) tools.push((this.screen = button("Full screen", () => this.toggleScreen())));
    tools.push(button("Leave class view", () => this.dialog.close()));
    return make("div", { class: "ww-class-bar", role: "group", "aria-label": "Class view" }, this.keys, make("div", { class: "ww-class-tools" }, ...tools));
  }

  key(event) {
    const action = keyAction(event, placeOf(event.target));
    // A window over this one, such as that of the code, has its own keys.
    if (!action || event.target.closest?.("dialog") !== this.dialog) return;
    event.preventDefault();
    event.stopPropagation();
    if (event.repeat && action !== "next" && action !== "back") return;
    const acts = {
      next: () => this.panel.transport.step(1),
      back: () => this.panel.transport.step(-1),
      freeze: () => this.freeze(),
      reveal: () => this.reveal(),
      keys: () => this.showKeys(),
    };
    acts[action]();
  }

  freeze() {
    if (this.frozen.on) {
      this.reveal();
      return;
    }
    this.frozen.freeze();
    this.freezeButton.setAttribute("aria-pressed", "true");
    this.panel.announce("Frozen. Time and switches move behind the picture.");
  }

  /** Show what is behind the frozen picture; else lift the first cover. */
  reveal() {
    if (this.frozen.on) {
      this.frozen.thaw();
      this.freezeButton.setAttribute("aria-pressed", "false");
      this.panel.announce("Revealed: the picture as it is now.");
    } else if (!this.covers.lift()) {
      this.panel.announce("Nothing is frozen or covered.");
    }
  }

  showKeys() {
    this.keys.hidden = !this.keys.hidden;
    setAttribute(this.keysButton, "aria-expanded", String(!this.keys.hidden));
  }

  toggleScreen() {
    if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
    else document.documentElement.requestFullscreen().catch(() => this.panel.announce("The browser does not allow the full screen here."));
  }

  /** The whole screen lies over everything that was opened before it: open the view anew, above it. */
  wholeScreen() {
    const now = document.activeElement;
    setText(this.screen, document.fullscreenElement ? "Leave full screen" : "Full screen");
    if (document.fullscreenElement && this.dialog.open) {
      this.dialog.close();
      this.dialog.showModal();
      if (this.dialog.contains(now)) now.focus({ preventScroll: true });
    }
  }

  update(shown) {
    if (this.on) this.covers.update(shown);
  }
}

/** The row for what is done with a state as a whole: shown large, handed out, saved. */
export function shareRow(panel) {
  const tools = panel.querySelector(".ww-tools");
  let row = tools.parentElement.querySelector(".ww-share");
  if (!row) {
    row = make("div", { class: "ww-share", role: "group", "aria-label": "Show, hand out, save" });
    tools.after(row);
  }
  return row;
}
