// Traces: quantities over time, under the flight line and on its scale. Built when a reader opens them.

import { clock } from "./clock.js";
import { isOpen, make, makeSvg, nextId, setAttribute, setText } from "./dom.js";
import { number } from "./bars.js";
import { TraceCard } from "./trace_card.js";
import { FlightLines } from "./trace_lines.js";
import { coloursOf, watchColours } from "./trace_look.js";
import { TraceStretch } from "./trace_stretch.js";
import { HIDDEN_WORDS } from "./view.js";

const PARTLY_WORDS = "In this view only what a crew is shown is traced.";
const NARROW_PX = 40;

export class Traces {
  constructor(panel, { traces, engines }) {
    this.panel = panel;
    this.groups = traces ?? [];
    this.engines = engines;
    this.known = new WeakMap();
    this.pointedS = null;
    this.root = panel.querySelector(".ww-traces");
    if (!this.root) return;
    this.root.addEventListener("toggle", () => {
      if (this.root.open && !this.body) this.build();
      this.point(null);
      panel.refresh();
    });
  }

  build() {
    this.body = this.root.querySelector(".ww-traces-body");
    this.group = this.groups[0];
    this.stretch = new TraceStretch(this.panel);
    this.when = make("p", { class: "ww-trace-when" });
    this.untold = make("span");
    this.nothing = make("p", { class: "ww-trace-nothing", hidden: true }, this.untold, " ", this.panel.view.showInside());
    this.cards = make("div", { class: "ww-trace-cards" });
    const hint = make(
      "p",
      { class: "ww-trace-hint" },
      "Point at a trace for its values; click, tap or drag to move the time. To show a stretch alone, drag over it with Shift held down, or after Choose by dragging.",
    );
    this.body.append(make("div", { class: "ww-trace-bar" }, this.choice(), this.stretch.root), hint, this.when, this.nothing, this.cards);
    this.listen = {
      brushes: () => this.stretch.dragging,
      onTime: (timeS) => {
        this.panel.pause();
        this.panel.goTo(timeS, { scrubbing: true });
      },
      onHover: (timeS) => this.point(timeS),
      onStretch: (oneS, otherS) => this.stretch.brush(oneS, otherS),
      onWhole: () => this.stretch.choose(null),
    };
    this.showGroup(this.group);
    this.watcher = new ResizeObserver(() => this.panel.refresh());
    this.watcher.observe(this.body);
    watchColours(() => {
      this.drawn = null;
      this.panel.refresh();
    });
    this.listenToFlightLine();
  }

  choice() {
    const name = nextId("ww-trace-group");
    const buttons = this.groups.map((group) => {
      const button = make("input", { type: "radio", name, value: group.name });
      button.checked = group === this.group;
      button.addEventListener("change", () => this.showGroup(group));
      return make("label", {}, button, make("span", {}, group.title));
    });
    const legend = make("legend", { class: "ww-hidden" }, "What to trace");
    return make("fieldset", { class: "ww-trace-groups" }, legend, make("div", { class: "ww-seg" }, ...buttons));
  }

  showGroup(group) {
    this.group = group;
    const { aircraftName, scriptName } = this.panel;
    this.plots = group.plots.map((trace) => new TraceCard(trace, this.listen, () => `${aircraftName}-${scriptName}`));
    this.cards.replaceChildren(...this.plots.map(({ root }) => root));
    this.drawn = null;
    this.panel.refresh();
  }

  // ---- pointing: at a trace or at the flight line

  listenToFlightLine() {
    const { line } = this.panel.flightLine;
    line.addEventListener("pointermove", (event) => {
      if (event.pointerType === "mouse") this.point(this.panel.flightLine.timeAt(event));
    });
    line.addEventListener("pointerleave", () => this.point(null));
  }

  point(timeS) {
    if (this.pointedS === timeS) return;
    this.pointedS = timeS;
    if (this.root.open) this.panel.refresh();
    this.pointFlightLine();
  }

  /** A fine line in the flight line at the time that is pointed at. */
  pointFlightLine() {
    const { flightLine } = this.panel;
    const picture = flightLine.picture();
    if (!picture) return;
    const shown = this.root.open && this.pointedS !== null;
    this.fine ??= makeSvg("line", { class: "ww-chart-pointed", y1: picture.dataset.top });
    setAttribute(this.fine, "display", shown ? null : "none");
    if (!shown) return;
    if (this.fine.parentNode !== picture) picture.insertBefore(this.fine, picture.querySelector(".cursor, .cursor-line")?.closest("svg > *") ?? null);
    const { left, right, startS, endS } = flightLine.laid.get(picture);
    const x = number(left + ((this.pointedS - startS) / (endS - startS)) * (right - left));
    setAttribute(this.fine, "y2", picture.dataset.floor);
    setAttribute(this.fine, "x1", x);
    setAttribute(this.fine, "x2", x);
  }

  // ---- painting

  /** What is read of the page's layout, before anything is written to it. */
  readLayout() {
    this.room = this.body && isOpen(this.root) ? this.roomFor() : null;
  }

  update({ flight, earlier, timeS, units }) {
    const { room } = this;
    if (!room) return;
    const domain = this.panel.flightLine.domain();
    const { onGauges } = this.panel.view;
    const key = [domain.startS, domain.endS, units, onGauges, this.group.name, room.left, room.right, room.width].join(" ");
    if (this.drawn !== key || this.flight !== flight || this.earlier !== earlier) {
      Object.assign(this, { drawn: key, flight, earlier });
      const colours = coloursOf(this.body);
      const [own, before] = [flight, earlier].map((each) => each && this.linesOf(each));
      for (const card of this.plots) card.draw({ own, earlier: before, domain, units, onGauges, colours, room });
      this.nothing.hidden = !onGauges;
      setText(this.untold, this.plots.some((card) => !card.root.hidden) ? PARTLY_WORDS : HIDDEN_WORDS);
    }
    this.stretch.update(domain);
    for (const card of this.plots) card.place(timeS, this.pointedS);
    const atS = this.pointedS ?? timeS;
    const phase = flight.phaseAt(atS).label.toLowerCase();
    setText(this.when, `Values at ${clock(atS)}, ${phase}${this.pointedS === null ? "" : ", where you point"}.`);
  }

  linesOf(flight) {
    if (!this.known.has(flight)) this.known.set(flight, new FlightLines(flight, this.engines));
    return this.known.get(flight);
  }

  /** The edges of the flight line, from the left of the traces: { left, right, width }, px. */
  roomFor() {
    const picture = this.panel.flightLine.shown;
    if (!picture) return null;
    const [box, own] = [picture.getBoundingClientRect(), this.cards.getBoundingClientRect()];
    const scale = box.width / picture.viewBox.baseVal.width;
    const edge = (at) => Math.round(box.left - own.left + Number(at) * scale);
    const left = Math.max(edge(picture.dataset.left), NARROW_PX);
    if (own.width < left + NARROW_PX) return null;
    return { left, right: Math.min(edge(picture.dataset.right), Math.floor(own.width)), width: Math.floor(own.width) };
  }
}
