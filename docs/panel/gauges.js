// What a crew would see of a moment: the second of the two views, "on the gauges". `wetwing/draw/gauges.py` answers the same.
// Whatever is painted or told from this moment can't tell more than a crew could know.

export const NOT_SHOWN = "not shown";
const NO_SIGNAL = "no signal";
const TRUE_STATES = ["control", "display", "alert", "engine", "apu", "meter", "totaliser"];
const TRUE_QUANTITIES = ["gauged_kg", "temperature_c", "metered_kg_h", "used_kg"];
const STOPPED = ["failed", "stopped for want of fuel"];
const TAKEN_ON = ["uplifted_kg", "uplifted_l"];

/** Whether a crew is told when a part changes. */
export function isTold(flight, part) {
  const kind = flight.parts.get(part)?.kind ?? "phase";
  return kind === "phase" || TRUE_STATES.includes(kind);
}

/** What a crew sees of a part's state: that an engine has stopped, and not of what. */
export function seenState(flight, part, state) {
  const burns = ["engine", "apu"].includes(flight.parts.get(part)?.kind);
  return burns && STOPPED.includes(state) ? "not running" : state;
}

export class GaugedMoment {
  /** @param {object} gauges facts: { meters, displayed, tanks: { name: { full_kg, probes } } } */
  constructor(moment, gauges) {
    this.inside = moment;
    this.gauges = gauges;
    this.flight = moment.flight;
    this.timeS = moment.timeS;
  }

  /** A quantity as it is shown; NaN where nobody shows it. */
  quantity(name) {
    const { inside, gauges } = this;
    const [part, asked] = name.split(".");
    if (part === "flight" || TAKEN_ON.includes(asked) || gauges.displayed.includes(name)) return inside.quantity(name);
    if (part === "total") {
      const shown = ["on_board_kg", "gauged_kg"].includes(asked) && !this.totalIsBlank();
      return shown ? inside.quantity("total.gauged_kg") : Number.NaN;
    }
    if (part in gauges.tanks) return this.ofTank(part, asked);
    const what = asked === "flow_kg_h" && part in gauges.meters ? "metered_kg_h" : asked;
    if (what === "metered_kg_h" && this.isSilent(part)) return Number.NaN;
    return TRUE_QUANTITIES.includes(what) ? inside.quantity(`${part}.${what}`) : Number.NaN;
  }

  ofTank(tank, what) {
    if (what === "temperature_c") return this.inside.quantity(`${tank}.${what}`);
    if (!["actual_kg", "gauged_kg", "fill"].includes(what) || this.isBlank(tank)) return Number.NaN;
    const gaugedKg = this.inside.quantity(`${tank}.gauged_kg`);
    return what === "fill" ? Math.min(gaugedKg / this.gauges.tanks[tank].full_kg, 1) : gaugedKg;
  }

  isBlank(tank) {
    const { probes } = this.gauges.tanks[tank];
    return probes.length > 0 && probes.every((probe) => this.inside.state(probe) === NO_SIGNAL);
  }

  totalIsBlank() {
    const totalisers = [...this.flight.parts.values()].filter((part) => part.kind === "totaliser");
    return totalisers.some((part) => this.inside.state(part.name) === NO_SIGNAL) || Object.keys(this.gauges.tanks).some((tank) => this.isBlank(tank));
  }

  isSilent(engine) {
    const meter = this.gauges.meters[engine];
    return meter === undefined || this.inside.state(meter) === NO_SIGNAL;
  }

  /** A part's state as it is shown. */
  state(part) {
    const known = this.flight.parts.get(part);
    if (isTold(this.flight, part)) return seenState(this.flight, part, this.inside.state(part));
    if (known.kind === "valve") return this.inside.shown(part);
    if (known.kind === "tank") return "holding";
    if (known.kind === "pump" && known.settings.length) return this.inside.setting(part);
    if (known.kind === "probe") {
      // One probe of several that gives no signal is not told; a gauge without any is blank.
      const owner = Object.keys(this.gauges.tanks).find((tank) => this.gauges.tanks[tank].probes.includes(part));
      return owner && this.isBlank(owner) ? NO_SIGNAL : NOT_SHOWN;
    }
    return NOT_SHOWN;
  }

  setting(part) {
    return this.inside.setting(part);
  }

  shown(part) {
    return this.inside.shown(part);
  }

  troubles() {
    return [];
  }
}
