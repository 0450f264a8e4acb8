// The panel as an element: holds what is shown (a flight, a time, a part, units, edits) and tells its pieces when it changes.

import { Announcer } from "./announce.js";
import { make, setAttribute, setProblem, setText } from "./dom.js";
import { ChangeList } from "./change_list.js";
import { counted, EditWords } from "./edit_words.js";
import { sameEdits } from "./edits.js";
import { EditsCard } from "./edits_card.js";
import { Explain } from "./explain.js";
import { clock } from "./clock.js";
import { where } from "./figures.js";
import { FlightLine } from "./flightline.js";
import { Flying } from "./flying.js";
import { LedgerCard } from "./ledger_card.js";
import { keptUnits, Links } from "./links.js";
import { listenForMoments } from "./moments.js";
import { PIECES } from "./pieces.js";
import { Pictures } from "./pictures.js";
import { RecordedFlight } from "./record.js";
import { RuntimeDoor } from "./runtime_door.js";
import { startRuntime } from "./runtime/client.js";
import { Source } from "./source.js";
import { StateLine } from "./state_line.js";
import { Switches } from "./switches.js";
import { Transport } from "./transport.js";
import { writeValues } from "./values.js";
import { View } from "./view.js";
import { Writing } from "./writing.js";

const RECORDED = "the recorded flight";

export class WetWingPanel extends HTMLElement {
  connectedCallback() {
    if (this.flight || this.broken) return;
    try {
      this.open();
    } catch (fault) {
      this.broken = true;
      const line = this.querySelector(".ww-state");
      if (line) line.textContent = `The pictures are as the page was built; the panel can't be moved. ${fault.message}`;
      for (const live of this.querySelectorAll(".ww-live")) live.hidden = true;
      console.error(fault);
    }
  }

  open() {
    const read = (name) => JSON.parse(this.querySelector(`script.ww-${name}`).textContent);
    const facts = read("facts");
    this.base = new RecordedFlight(read("record"));
    this.flight = this.base;
    this.earlier = null;
    this.flying = new Flying(this);
    [this.recordId, this.earlierId, this.made, this.baseId] = [1, 0, 1, 1];
    this.edits = this.base.edits;
    this.source = new Source(this);
    this.changes = new ChangeList(this);
    this.compared = null;
    this.earlierName = RECORDED;
    this.aircraftName = this.dataset.aircraft;
    this.scriptName = this.dataset.script;
    this.startS = Number(this.dataset.start);
    this.timeS = this.flight.hold(this.startS);
    this.chosen = this.dataset.focus;
    this.units = keptUnits.read();
    this.build(facts);
    this.paint();
    this.links.open();
    // The simulation starts when the page is at rest: what is shown does not need it.
    const idle = window.requestIdleCallback ?? ((work) => window.setTimeout(work, 200));
    idle(() => this.door.start(), { timeout: 2000 });
  }

  build(facts) {
    const settings = document.querySelector("script.ww-runtime");
    this.door = new RuntimeDoor(settings ? JSON.parse(settings.textContent) : null, startRuntime, (state) => this.heard(state));
    this.view = new View(this, facts.gauges);
    this.writing = new Writing(this);
    this.announcer = new Announcer(this);
    this.pictures = new Pictures(this);
    this.flightLine = new FlightLine(this, facts.rules);
    this.transport = new Transport(this, this.flightLine);
    this.switches = new Switches(this);
    this.explain = new Explain(this, facts);
    this.ledger = new LedgerCard(this, facts);
    this.editWords = new EditWords(this, facts);
    this.editsCard = new EditsCard(this, facts);
    this.stateLine = new StateLine(this, this.door, this.switches);
    this.links = new Links(this, facts.troubles);
    this.pieces = PIECES.map((Piece) => new Piece(this, facts));
    for (const choice of this.querySelectorAll(".ww-units input")) {
      choice.addEventListener("change", () => {
        keptUnits.write(choice.value);
        this.setUnits(choice.value);
      });
    }
    this.querySelector(".ww-reset").addEventListener("click", () => this.reset());
    this.setUnits(this.units);
    listenForMoments(this);
  }

  // ---- showing

  /** Go to a time. `part` is explained there; `scrubbing`, `playing` and `stepped` say how, so that only what helps is said. */
  goTo(timeS, how = {}) {
    const { part = null, scrubbing = false, playing = false, stepped = false } = how;
    const before = this.timeS;
    const flight = this.onShow;
    this.timeS = flight.hold(timeS);
    // Beyond what is flown there is nothing to show yet.
    this.flying.later = this.flying.early && timeS > flight.durationS ? { timeS, how } : null;
    if (part && flight.parts.has(part)) this.chosen = part;
    // While a trouble is hidden the panel tells nothing that a gauge does not show.
    if (this.dataset.challenge !== undefined) return this.refresh();
    if (playing) this.announcer.passed(flight, before, this.timeS);
    else if (stepped && !scrubbing) this.announcer.at(flight, this.timeS);
    return this.refresh();
  }

  choose(part) {
    if (!this.onShow.parts.has(part)) return;
    this.chosen = part;
    this.refresh();
  }

  setUnits(units) {
    this.units = units;
    for (const choice of this.querySelectorAll(".ww-units input")) choice.checked = choice.value === units;
    writeValues(units);
    this.refresh();
  }

  /** Numbers are written another way from now on: pieces that know what they wrote by the flight take this for another one. */
  writtenAnew() {
    this.made += 1;
    if (this.flight === this.base) this.baseId = this.made;
    this.recordId = this.made;
    this.setUnits(this.units);
  }

  pause() {
    this.transport.pause();
  }

  announce(text) {
    this.announcer.say(text);
  }

  /** Say something at the switches; null takes it away. */
  note(text) {
    setProblem(this.querySelector(".ww-note"), text);
  }

  /** Paint before the next frame, once, however often it is asked for. */
  refresh() {
    if (this.painting || !this.links) return;
    this.painting = true;
    window.requestAnimationFrame(() => this.paint());
  }

  paint() {
    this.painting = false;
    const { early } = this.flying;
    const { onShow: flight, timeS, chosen: part, units } = this;
    const earlier = early ? this.behind(flight).flight : this.earlier;
    // All that is read of the layout is read here: a read after a write would have the browser lay out twice.
    for (const piece of [this.pictures, this.flightLine, ...this.pieces]) piece.readLayout?.();
    const moment = this.view.seen(flight.at(timeS));
    const shown = { flight, earlier, early, timeS, part, units, moment, view: this.view.name };
    this.places ??= { time: this.querySelector(".ww-now-time"), where: this.querySelector(".ww-where") };
    setText(this.places.time, clock(timeS));
    setText(this.places.where, `${flight.phaseAt(timeS).label}, ${where(shown.moment.quantity("flight.altitude_ft"))}`);
    // Of a flight that is still being flown only what these show is known. The others wait for the whole, under a mark.
    const now = [this.pictures, this.switches, this.flightLine, this.transport, this.explain, this.ledger];
    const all = early ? now : [...now, this.editsCard, ...this.pieces];
    for (const piece of all) piece.update(shown);
    setAttribute(this, "data-flying", early ? "" : null);
  }

  /** The flight at the time on show: that of the reader's last change as far as it is flown, or the whole flight. */
  get onShow() {
    return this.flying.early?.flight ?? this.flight;
  }

  /** Numbers the flight that `onShow` gives. */
  get onShowId() {
    return this.flying.early?.id ?? this.recordId;
  }

  // ---- changing the flight

  /** Set a part, or break it, at the time on show or another. @returns {Promise<string|null>} what is wrong, if anything is */
  edit({ part, state, timeS = this.timeS }) {
    return this.changes.add({ part, state, timeS });
  }

  /** Do some work on the flight when what was asked for before is done. */
  inTurn(work) {
    return this.changes.inTurn(work);
  }

  undo() {
    return this.changes.step("back");
  }

  redo() {
    return this.changes.step("forth");
  }

  /** Fly the script with other edits and show that flight at the same time. @returns {Promise<string|null>} */
  flyWith(edits, options) {
    return this.flying.fly(edits, options);
  }

  /** Fly the script with other edits and leave what is on show. @returns {Promise<{flight: object}|{problem: string}>} */
  async flyAside(edits) {
    if (sameEdits(edits, this.base.edits)) return { flight: this.base };
    const asked = await this.door.ask({ ask: "fly", aircraft: this.aircraftName, ...this.source.request(), edits });
    return asked.problem ? asked : { flight: new RecordedFlight(asked.answer.record) };
  }

  /** `left` are the lists of changes that this one follows, in order. */
  replace(flight, edits, left = []) {
    left.forEach((list, index) => sameEdits(list, left[index + 1] ?? edits) || this.changes.history.push(list));
    const later = this.flying.end();
    this.flight = flight;
    this.edits = edits;
    this.made += 1;
    this.recordId = flight === this.base ? this.baseId : this.made;
    this.showBehind();
    this.timeS = flight.hold(this.timeS);
    this.note(null);
    if (later) this.goTo(later.timeS, later.how);
    this.refresh();
  }

  /** The flight that stays as a shadow: the recorded one, or one that the reader compares with. */
  showBehind() {
    const { flight, id, name } = this.behind(this.flight);
    [this.earlier, this.earlierId, this.earlierName] = [flight, id, name];
  }

  /** What stands behind a flight: { flight, id, name }. */
  behind(flight) {
    if (this.compared) return this.compared;
    return flight === this.base ? { flight: null, id: 0, name: RECORDED } : { flight: this.base, id: this.baseId, name: RECORDED };
  }

  /** Compare with another flight of this script, { flight, name, key }; null compares with the recorded one. */
  compareWith(other) {
    this.made += 1;
    this.compared = other ? { ...other, id: this.made } : null;
    this.showBehind();
    this.refresh();
  }

  /** Show flights of another script: `base` without the reader's changes, `flight` with them. */
  adopt({ base, flight, edits }) {
    this.made += 1;
    [this.base, this.baseId] = [base, base === this.source.page ? 1 : this.made];
    this.changes.forget();
    this.compared = null;
    this.wanted = null;
    this.replace(flight, edits);
  }

  /** Open edits that came with a link or a moment: at once, or as soon as the simulation is ready. */
  async flyWhenReady(edits, timeS, part = null) {
    const go = () => timeS !== null && this.goTo(timeS, { part });
    if (sameEdits(edits, this.edits)) {
      this.wanted = null;
      go();
      return;
    }
    if (!this.door.ready && !sameEdits(edits, this.base.edits)) {
      this.wanted = { edits, timeS, part };
      go();
      this.note(this.waitWords(edits.length));
      return;
    }
    this.wanted = null;
    const problem = await this.flyWith(edits);
    if (problem) this.note(problem);
    else go();
  }

  waitWords(count) {
    const changes = count === 1 ? "one change" : `${count} changes`;
    const later = ["failed", "absent"].includes(this.door.state.name)
      ? "The live simulation is not available, so the recorded flight is shown without it."
      : "The recorded flight is shown until the live simulation is ready; then it is applied.";
    return `This state holds ${changes} of the flight. ${later}`;
  }

  /** Open a moment of the page. Its statement holds for its own edits alone, so others are set aside. */
  async openMoment({ timeS, part, edits }) {
    this.source.back();
    const setAside = this.edits.length > 0 && !sameEdits(edits, this.edits) && edits.length === 0;
    await this.flyWhenReady(edits, timeS, part);
    this.announcer.at(this.flight, this.timeS);
    if (setAside) this.noteWithUndo("This moment is of the recorded flight. Your changes were set aside.");
  }

  noteWithUndo(text, back = () => this.undo()) {
    this.note(`${text} `);
    const button = make("button", { type: "button" }, "Bring them back");
    button.addEventListener("click", () => {
      // The note goes with what it brings back.
      if (document.activeElement === button) this.querySelector(".ww-reset").focus({ preventScroll: true });
      back();
    });
    this.querySelector(".ww-note").append(button);
  }

  backToRecorded() {
    this.flyWith(this.base.edits);
    this.announce("Back to the recorded flight.");
  }

  /** As the page opened. What is set aside is told, and can be brought back. */
  reset() {
    const { own } = this.source;
    const count = sameEdits(this.edits, this.base.edits) ? 0 : this.edits.length;
    this.source.back();
    this.compareWith(null);
    this.flyWith(this.base.edits);
    this.chosen = this.dataset.focus;
    this.note(null);
    this.goTo(this.startS);
    this.announce("The panel is as the page opened it.");
    const changes = count ? counted(count) : "";
    if (own) this.noteWithUndo(`Reset set aside your script${changes && `, with ${changes}`}.`, () => this.source.swap());
    else if (count) this.noteWithUndo(`Reset set aside ${changes} of yours.`);
  }

  // ---- the runtime

  heard(state) {
    this.stateLine.show(state);
    setAttribute(this, "data-live", state.name === "ready" ? "" : null);
    this.hearRestart(state.name);
    if (state.name === "ready") this.door.prepare(this.aircraftName, this.source.request(), this.edits);
    if (!this.wanted) return;
    if (state.name === "ready") {
      const { edits, timeS, part } = this.wanted;
      this.flyWhenReady(edits, this.timeS === this.flight.hold(timeS ?? this.timeS) ? timeS : this.timeS, part);
    } else if (state.name === "failed") {
      this.note(this.waitWords(this.wanted.edits.length));
    }
  }

  /** The simulation has stopped after it ran, and starts again: say so at the switches, until it runs. */
  hearRestart(name) {
    if (name === "ready") {
      if (this.stopped) {
        this.note(null);
        this.announce("The live simulation runs again.");
      }
      [this.ran, this.stopped] = [true, false];
    } else if (this.ran && !this.stopped) {
      this.stopped = true;
      const kept = this.edits.length ? `Your changes (${this.edits.length}) are kept` : "Nothing is lost";
      this.note(`The live simulation stopped and starts again. ${kept}, and the flight stays on show.`);
    }
  }
}
