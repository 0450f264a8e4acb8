// Covers for "predict first": the reasons, the figures, what comes next, and the flight after this moment. What is covered is
// always said in words; each cover is lifted alone; and all come back when the time moves.

import { make, setAttribute } from "./dom.js";

export const COVERS = [
  { name: "reasons", label: "Reasons", covered: "the reasons", before: ".ww-because" },
  { name: "figures", label: "Figures", covered: "the figures", before: ".ww-plans" },
  { name: "next", label: "What comes next", covered: "what comes next to the part", before: ".ww-then" },
  { name: "later", label: "The flight after now", covered: "the flight after this moment", before: ".ww-flightline" },
];

/** Which covers lie on something: pure, so that it can be tried without a page. */
export class CoverState {
  constructor() {
    this.wanted = new Set();
    this.lifted = new Set();
  }

  want(name, wanted) {
    this.lifted.delete(name);
    if (wanted) this.wanted.add(name);
    else this.wanted.delete(name);
  }

  lies(name) {
    return this.wanted.has(name) && !this.lifted.has(name);
  }

  /** Lift one cover, or the first that lies. @returns {string|null} which */
  lift(name = COVERS.find((cover) => this.lies(cover.name))?.name) {
    if (!name || !this.lies(name)) return null;
    this.lifted.add(name);
    return name;
  }

  /** The time has moved: everything lies covered again. */
  again() {
    this.lifted.clear();
  }

  clear() {
    this.wanted.clear();
    this.lifted.clear();
  }
}

/** The covers of one panel, or of two that are shown together: what lies on one lies on both. */
export class Covers {
  /**
   * @param {HTMLElement[]} panels the first leads
   * @param {() => void} thaw takes a frozen picture away: what lies behind it is what gets uncovered
   */
  constructor(panels, thaw) {
    this.panels = panels;
    this.thaw = thaw;
    // Two drawings side by side leave no room for the card that says what comes next.
    this.offered = COVERS.filter(({ name }) => panels.length === 1 || name !== "next");
    this.state = new CoverState();
    this.times = new Map();
    this.notes = panels.flatMap((panel) => this.offered.map((cover) => this.note(panel, cover)));
    this.masks = panels.map((panel) => {
      const mask = make("div", { class: "ww-later-mask", "aria-hidden": "true", hidden: true }, make("span", {}, "Covered"));
      panel.querySelector(".ww-flightline").append(mask);
      return { panel, mask };
    });
  }

  /** The words in the place of what is covered, with the button that lifts the cover. */
  note(panel, { name, covered, before }) {
    const button = make("button", { type: "button" }, `Reveal ${covered}`);
    const line = make("p", { class: "ww-cover-note", hidden: true }, make("span", {}, `Covered: ${covered}. Press R to reveal.`), " ", button);
    button.addEventListener("click", () => {
      this.thaw();
      this.lift(name);
    });
    panel.querySelector(before)?.before(line);
    return { name, line };
  }

  /** The choice of what is covered, for the bar of the class view. */
  choice() {
    const boxes = this.offered.map(({ name, label }) => {
      const box = make("input", { type: "checkbox", value: name });
      box.addEventListener("change", () => {
        this.state.want(name, box.checked);
        this.apply();
      });
      return make("label", { class: "ww-cover-choice" }, box, ` ${label}`);
    });
    return make("fieldset", { class: "ww-cover-choices" }, make("legend", {}, "Cover"), ...boxes);
  }

  /** Lift one cover, or the first that lies. @returns {boolean} whether there was one */
  lift(name) {
    const found = this.state.lift(name);
    if (!found) return false;
    const { covered } = COVERS.find((cover) => cover.name === found);
    this.panels[0].announce(`Revealed: ${covered}.`);
    const focused = this.notes.some((own) => own.name === found && own.line.contains(document.activeElement));
    this.apply();
    // The button has gone with its cover: the focus must not go with it.
    if (focused) this.panels[0].querySelector(".ww-next").focus({ preventScroll: true });
    return true;
  }

  clear() {
    this.state.clear();
    this.apply();
  }

  apply() {
    const lying = COVERS.filter(({ name }) => this.state.lies(name)).map(({ name }) => name);
    for (const panel of this.panels) setAttribute(panel, "data-cover", lying.length ? lying.join(" ") : null);
    for (const { name, line } of this.notes) line.hidden = !this.state.lies(name);
    this.place();
    for (const panel of this.panels) panel.refresh();
  }

  update(panel, { timeS, flight, part }) {
    const kind = flight.parts.get(part)?.kind ?? "";
    setAttribute(panel, "data-asked", this.state.wanted.size ? kind : null);
    if (this.times.get(panel) !== timeS) {
      this.times.set(panel, timeS);
      this.state.again();
      if (this.state.wanted.size) this.apply();
    }
    this.place();
  }

  /** Lay the mask over each chart that is on show, from the cursor to the right. */
  place() {
    const lies = this.state.lies("later");
    for (const { panel, mask } of this.masks) {
      mask.hidden = !lies;
      if (lies) lay(mask, panel.querySelector(".ww-flightline"));
    }
  }
}

function lay(mask, line) {
  const picture = [...line.querySelectorAll("svg")].find((own) => own.parentElement.offsetParent !== null);
  if (!picture) return;
  const [box, own] = [line.getBoundingClientRect(), picture.getBoundingClientRect()];
  const scale = own.width / picture.viewBox.baseVal.width;
  const cursor = Number(picture.querySelector(".cursor-line").getAttribute("x1"));
  const [left, right] = [cursor + 2, Number(picture.dataset.right) + 4];
  const [top, floor] = [Number(picture.dataset.top) - 2, Number(picture.dataset.floor) + 1];
  Object.assign(mask.style, {
    left: `${own.left - box.left + left * scale}px`,
    top: `${own.top - box.top + top * scale}px`,
    width: `${Math.max(right - left, 0) * scale}px`,
    height: `${(floor - top) * scale}px`,
  });
}
