// Links: the address that opens this state elsewhere, and opening what an address asks for.

import { exactClock } from "./clock.js";
import { kept, setText } from "./dom.js";
import { sameEdits } from "./edits.js";
import { UNITS } from "./figures.js";
import { formatLink, LinkProblem, parseLink } from "./link.js";
import { nearest } from "./nearest.js";

const OWN_DEFAULT = "The page opens at its own moment.";
const KEPT = "What was on show stays.";

export class Links {
  constructor(panel, troubles = {}) {
    this.panel = panel;
    this.troubles = troubles;
    const find = (name) => panel.querySelector(`.ww-${name}`);
    [this.row, this.field, this.copied] = ["link-row", "link", "copied"].map(find);
    find("copy").addEventListener("click", () => this.copy());
    window.addEventListener("hashchange", () => this.open());
  }

  address() {
    const { aircraftName, scriptName, edits, timeS, units, view } = this.panel;
    const place = window.location.href.replace(/#.*$/, "");
    const own = formatLink({ aircraft: aircraftName, flight: scriptName, edits, timeS, units, view: view.name });
    return place + this.withTwin(own);
  }

  /** A link to two panels holds a part for each, with a semicolon between: left, then right. */
  withTwin(own) {
    const { twin } = this.panel.dataset;
    if (!twin) return own;
    const other = [...this.panel.closest(".ww-twin").querySelectorAll("wet-wing-panel")].find((panel) => panel !== this.panel);
    const { aircraftName, scriptName, edits, timeS, units, view } = other;
    const theirs = formatLink({ aircraft: aircraftName, flight: scriptName, edits, timeS, units, view: view.name });
    return twin === "left" ? `${own};${theirs.slice(1)}` : `${theirs};${own.slice(1)}`;
  }

  /** What the address says of this panel. */
  ownPart() {
    const { twin } = this.panel.dataset;
    const parts = window.location.hash.replace(/^#/, "").split(";");
    return twin && parts.length < 3 ? (parts[twin === "left" ? 0 : 1] ?? "") : window.location.hash;
  }

  async copy() {
    if (this.panel.source.own) {
      setText(this.copied, "A link can't hold a script of your own, or figures changed in it. Save the flight as a script instead.");
      return;
    }
    const address = this.address();
    this.field.value = address;
    let done = false;
    try {
      // Missing on plain http, and it may be refused.
      await navigator.clipboard.writeText(address);
      done = true;
    } catch {
      this.row.hidden = false;
      this.field.focus();
      this.field.select();
      done = tryCopyCommand();
    }
    setText(this.copied, done ? "Link copied." : "The link is selected: copy it with your keyboard or menu.");
  }

  /** Open what the address asks for; say what is wrong with it and keep the page's own state where it can't be opened. */
  open() {
    const { panel } = this;
    let link = null;
    const later = this.opened;
    this.opened = true;
    try {
      link = parseLink(this.ownPart());
      if (link) this.check(link);
    } catch (problem) {
      if (!(problem instanceof LinkProblem)) throw problem;
      panel.note(`This link can't be opened. ${problem.message} ${later ? KEPT : OWN_DEFAULT}`);
      return;
    }
    if (!link) return;
    panel.source.back();
    if (link.units) panel.setUnits(link.units);
    // A link of the usual view says nothing of it.
    panel.view.set(link.view ?? "inside");
    if (link.timeS !== null) panel.goTo(link.timeS);
    if (sameEdits(link.edits, panel.edits)) panel.note(null);
    else panel.flyWhenReady(link.edits, link.timeS);
  }

  check(link) {
    const { panel } = this;
    const { base } = panel;
    if (link.aircraft && link.aircraft !== panel.aircraftName) {
      throw new LinkProblem(`It is for the aircraft '${link.aircraft}'; this page shows '${panel.aircraftName}'.`);
    }
    if (link.flight && link.flight !== panel.scriptName) {
      throw new LinkProblem(`It is for the flight '${link.flight}'; this page shows '${panel.scriptName}'.`);
    }
    const end = base.durationS;
    if (link.timeS !== null && link.timeS > end + 0.1) {
      throw new LinkProblem(`Its time, ${exactClock(link.timeS)}, is after the end of the flight, ${exactClock(end)}.`);
    }
    link.edits.forEach((edit, index) => this.checkEdit(edit, index + 1, base));
  }

  checkEdit(edit, ordinal, base) {
    const kinds = this.troubles[edit.part] ?? [];
    const able = [...base.parts.values()].filter((part) => part.settings.length || part.quantity || part.name in this.troubles);
    const part = able.find((own) => own.name === edit.part);
    if (!part) {
      const near = nearest(edit.part, able.map((own) => own.name));
      throw new LinkProblem(`Edit ${ordinal}: nobody can set '${edit.part}', and it can have no trouble.${near ? ` Nearest: '${near}'.` : ""}`);
    }
    // A trouble may have a figure after its kind: the simulation judges that.
    const words = kinds.length ? [...part.settings, ...kinds, "mended"] : part.settings;
    const known = part.quantity || words.some((word) => edit.state === word || (kinds.includes(word) && edit.state.startsWith(`${word} `)));
    if (!known) {
      throw new LinkProblem(`Edit ${ordinal}: ${part.label} can't be '${edit.state}'. Allowed: ${words.join(", ")}.`);
    }
    if (edit.time_s > base.durationS) {
      throw new LinkProblem(`Edit ${ordinal}: its time, ${exactClock(edit.time_s)}, is after the end of the flight.`);
    }
  }
}

/** Units that the reader chose before, on this device. */
export const keptUnits = {
  read: () => {
    const found = kept.read("ww-units");
    return UNITS.includes(found) ? found : "kg";
  },
  write: (units) => kept.write("ww-units", units),
};

function tryCopyCommand() {
  try {
    return document.execCommand("copy");
  } catch {
    return false;
  }
}
