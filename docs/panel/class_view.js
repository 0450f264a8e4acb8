// The class view: the panel, or two panels side by side, large over the page, with a frozen picture, covers, and keys for a clicker.

import { ClassBar } from "./class_bar.js";
import { keyAction, placeOf } from "./class_keys.js";
import { differenceNow, momentWords } from "./class_words.js";
import { Covers } from "./cover.js";
import { make, setText } from "./dom.js";
import { Frozen } from "./frozen.js";

export class ClassView {
  constructor(panel) {
    this.panel = panel;
    this.frame = panel.closest(".ww-twin") ?? panel;
    this.button = make("button", { type: "button", class: "ww-class-open" }, "Class view");
    this.button.addEventListener("click", () => this.lead.open(this.button));
    shareRow(panel).prepend(this.button);
  }

  /** Of two panels side by side the left one leads: its flight line, its bar, its keys. */
  get lead() {
    const first = this.frame === this.panel ? this.panel : this.frame.querySelector("wet-wing-panel");
    return first?.pieces.find((piece) => piece instanceof ClassView) ?? this;
  }

  get panels() {
    return this.frame === this.panel ? [this.panel] : [...this.frame.querySelectorAll("wet-wing-panel")].filter((panel) => panel.links);
  }

  get on() {
    return this.dialog?.isConnected ?? false;
  }

  open(opener = this.button) {
    const { panel, frame } = this;
    if (this.on) return;
    this.opener = opener;
    this.shown = this.panels;
    if (!this.covers) {
      this.covers = new Covers(this.shown, () => this.frozen.some(({ on }) => on) && this.reveal());
      const head = [...frame.querySelectorAll(".ww-twin-head")];
      this.frozen = this.shown.map((own) => (own === panel ? new Frozen(own, () => this.reveal(), head) : new Frozen(own, null)));
    }
    this.scrollY = window.scrollY;
    const height = frame.getBoundingClientRect().height;
    this.dialog = make("dialog", { class: "ww-class", "aria-label": "Class view" });
    // The page behind keeps its length, so that it is found again as it was left.
    this.place = make("div", { style: `height:${Math.round(height)}px` });
    frame.before(this.place, this.dialog);
    this.dialog.append(frame);
    this.sentences = this.shown.map((own) => sentenceOf(own));
    this.parted = this.shown.length > 1 ? make("p", { class: "ww-class-parted" }) : null;
    if (this.parted) frame.querySelector(".ww-twin-head").append(this.parted);
    this.showEvery(false);
    const qr = panel.pieces.find((piece) => piece.showCode);
    this.bar = new ClassBar(this.covers, {
      freeze: () => this.freeze(),
      reveal: () => this.reveal(),
      every: (checked) => this.showEvery(checked),
      switches: this.parted || panel.querySelector(".ww-switch-groups") ? () => this.showSwitches() : null,
      code: qr ? () => qr.showCode() : null,
      screen: () => this.toggleScreen(),
      leave: () => this.dialog.close(),
    });
    this.foot = frame === panel ? this.bar.element : make("div", { class: "ww-panel ww-class-foot" }, this.bar.element);
    frame.append(this.foot);
    this.dialog.addEventListener("keydown", (event) => this.key(event), true);
    this.dialog.addEventListener("close", () => this.dialog.open || this.leave());
    this.whole = () => this.wholeScreen();
    document.addEventListener("fullscreenchange", this.whole);
    this.dialog.showModal();
    panel.querySelector(".ww-next").focus({ preventScroll: true });
    this.dialog.scrollTop = 0;
    this.refresh();
  }

  /** Back to the page as it was. Nothing stays covered or frozen. */
  leave() {
    if (!this.on) return;
    for (const own of this.frozen) own.thaw();
    this.covers.clear();
    document.removeEventListener("fullscreenchange", this.whole);
    if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
    for (const own of [this.foot, this.parted, ...this.sentences]) own?.remove();
    for (const own of this.shown) own.removeAttribute("data-class");
    this.place.replaceWith(this.frame);
    this.dialog.remove();
    window.scrollTo({ top: this.scrollY, behavior: "instant" });
    this.opener.focus({ preventScroll: true });
    this.refresh();
  }

  /** The whole drawing in few large labels, on one screen; or every label and the feed chart, on a screen that scrolls. */
  showEvery(every) {
    this.dialog.dataset.seen = every ? "every" : "whole";
    for (const own of this.shown) own.setAttribute("data-class", every ? "every" : "");
    this.dialog.scrollTop = 0;
    this.refresh();
  }

  /** @returns {boolean} whether they are shown now */
  showSwitches() {
    const shown = !this.dialog.hasAttribute("data-switches");
    this.dialog.toggleAttribute("data-switches", shown);
    this.refresh();
    return shown;
  }

  refresh() {
    for (const own of this.shown) own.refresh();
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
      keys: () => this.bar.showKeys(),
    };
    acts[action]();
  }

  freeze() {
    if (this.frozen.some(({ on }) => on)) {
      this.reveal();
      return;
    }
    for (const own of this.frozen) own.freeze();
    this.bar.frozen(true);
    this.panel.announce("Frozen. Time and switches move behind the picture.");
  }

  /** Show what is behind the frozen picture; else lift the first cover. */
  reveal() {
    if (this.frozen.some(({ on }) => on)) {
      for (const own of this.frozen) own.thaw();
      this.bar.frozen(false);
      this.panel.announce("Revealed: the picture as it is now.");
    } else if (!this.covers.lift()) {
      this.panel.announce("Nothing is frozen or covered.");
    }
  }

  toggleScreen() {
    if (document.fullscreenElement) document.exitFullscreen().catch(() => {});
    else document.documentElement.requestFullscreen().catch(() => this.panel.announce("The browser does not allow the full screen here."));
  }

  /** The whole screen lies over everything that was opened before it: open the view anew, above it. */
  wholeScreen() {
    const now = document.activeElement;
    this.bar.whole(Boolean(document.fullscreenElement));
    if (document.fullscreenElement && this.dialog.open) {
      this.dialog.close();
      this.dialog.showModal();
      if (this.dialog.contains(now)) now.focus({ preventScroll: true });
    }
  }

  update(shown) {
    const lead = this.lead;
    if (!lead?.on) return;
    const at = lead.shown.indexOf(this.panel);
    if (at < 0) return;
    const onGauges = shown.view === "gauges";
    const { what, why } = momentWords(shown.flight, shown.timeS, { units: shown.units, onGauges });
    const [first, reason] = lead.sentences[at].children;
    setText(first, what);
    lead.covers.update(this.panel, shown);
    setText(reason, lead.covers.state.lies("reasons") ? "Covered: the reasons." : why);
    if (lead.parted) lead.sayParted(at, shown);
  }

  /** Say where the two differ now, once both have been painted for this time. */
  sayParted(at, { moment, units }) {
    this.moments ??= [];
    this.moments[at] = moment;
    const [left, right] = this.moments;
    if (left && right && Math.abs(left.timeS - right.timeS) < 1) setText(this.parted, differenceNow(left, right, units));
  }
}

/** The moment's sentence, over the card that explains a part. */
function sentenceOf(panel) {
  const line = make("p", { class: "ww-class-sentence" }, make("strong"), make("span", { class: "ww-class-why" }));
  panel.querySelector(".ww-frame").append(line);
  return line;
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
