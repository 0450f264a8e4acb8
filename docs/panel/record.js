// A flight as the page holds it: keyframes, changes with reasons, and what any time in between shows.

import { sentenceCase } from "./words.js";

const ROUNDED_S = 0.0015;

/** How many entries of a sorted array are at or before `value`. */
export function countUpTo(sorted, value) {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle] <= value) low = middle + 1;
    else high = middle;
  }
  return low;
}

export class RecordedFlight {
  /** @param {object} document a record of format `wetwing-record/1` */
  constructor(document) {
    if (document?.format !== "wetwing-record/1") {
      throw new Error(`The record's format is '${document?.format}'; this page reads 'wetwing-record/1'.`);
    }
    this.document = document;
    this.durationS = document.duration_s;
    this.phases = document.phases;
    this.parts = new Map(document.parts.map((part) => [part.name, part]));
    this.changes = document.changes;
    this.timeS = document.time_s;
    this.quantities = document.quantities;
    this.edits = document.edits ?? [];
    this.ended = document.ended ?? null;
    this.byPart = group(this.changes);
    this.commandsOf = group(document.commands ?? []);
    this.troublesOf = new Map();
    for (const part of document.parts) {
      if (part.kind === "trouble") this.troublesOf.set(part.of, [...(this.troublesOf.get(part.of) ?? []), part]);
    }
  }

  /** What people call a part. What a trouble does stands in the reason of its change. */
  label(part) {
    const found = this.parts.get(part);
    return found?.kind === "trouble" ? "Trouble" : (found?.label ?? sentenceCase(part));
  }

  /** Hold a time to the flight, and to a keyframe that it means: records round their times to a millisecond. */
  hold(timeS) {
    const held = Math.min(Math.max(timeS, 0), this.durationS);
    const next = this.timeS[countUpTo(this.timeS, held)];
    return next !== undefined && next - held < ROUNDED_S ? next : held;
  }

  /** The flight at one time: answers quantities and states quickly, for one painting. */
  at(timeS) {
    const right = countUpTo(this.timeS, timeS);
    return new Moment(this, timeS, right);
  }

  phaseAt(timeS) {
    const at = countUpTo(this.phases.map((phase) => phase.start_s), timeS);
    return this.phases[Math.max(at - 1, 0)];
  }

  phaseEnd(phase) {
    return this.phases[this.phases.indexOf(phase) + 1]?.start_s ?? this.durationS;
  }

  /** Index of a part's last change at or before a time, or null. */
  lastChange(part, timeS) {
    const own = this.byPart.get(part);
    const count = own ? countUpTo(own.times, timeS) : 0;
    return count ? own.indices[count - 1] : null;
  }

  /** Index of a part's first change after a time, or null. */
  nextChange(part, timeS) {
    const own = this.byPart.get(part);
    const count = own ? countUpTo(own.times, timeS) : 0;
    return own && count < own.indices.length ? own.indices[count] : null;
  }

  /** The next time after `timeS` at which something changes, or null. */
  nextTime(timeS) {
    for (const change of this.changes) if (change.time_s > timeS + 1e-6) return change.time_s;
    return null;
  }

  /** The last time before `timeS` at which something changed; the start of the flight if nothing did. */
  previousTime(timeS) {
    let found = 0;
    for (const change of this.changes) {
      if (change.time_s >= timeS - 1e-6) break;
      found = change.time_s;
    }
    return found;
  }

  /** Indices of the changes in (`fromS`, `toS`]. */
  between(fromS, toS) {
    const found = [];
    this.changes.forEach((change, index) => {
      if (change.time_s > fromS && change.time_s <= toS) found.push(index);
    });
    return found;
  }

  /** A quantity at every keyframe, or the sum of several joined by ` + `. */
  column(names) {
    const columns = names.split(" + ").map((name) => this.quantities[name] ?? [0]);
    return this.timeS.map((_time, index) =>
      columns.reduce((sum, values) => sum + (values.length === 1 ? values[0] : values[index]), 0),
    );
  }

  /** (start, end, state) of a part over the whole flight. */
  spans(part) {
    const found = [];
    let start = 0;
    let state = this.parts.get(part).start;
    const own = this.byPart.get(part) ?? { times: [], indices: [] };
    own.times.forEach((timeS, at) => {
      if (timeS > start) found.push({ start, end: timeS, state });
      [start, state] = [timeS, this.changes[own.indices[at]].to];
    });
    found.push({ start, end: Math.max(this.durationS, start + 1), state });
    return found;
  }
}

class Moment {
  constructor(flight, timeS, right) {
    this.flight = flight;
    this.timeS = timeS;
    const times = flight.timeS;
    this.right = Math.min(right, times.length - 1);
    this.left = right >= times.length ? this.right : Math.max(right - 1, 0);
    const width = times[this.right] - times[this.left];
    this.share = width > 0 ? (timeS - times[this.left]) / width : 0;
  }

  /** A quantity, linear between keyframes; at a jump the later value. */
  quantity(name) {
    const values = this.flight.quantities[name];
    if (values === undefined) return 0;
    if (values.length === 1) return values[0];
    const before = values[this.left];
    return before + this.share * (values[this.right] - before);
  }

  state(part) {
    const last = this.flight.lastChange(part, this.timeS);
    return last === null ? (this.flight.parts.get(part)?.start ?? "") : this.flight.changes[last].to;
  }

  /** The kinds of trouble that a part has now. */
  troubles(part) {
    const own = this.flight.troublesOf.get(part) ?? [];
    return own.filter((trouble) => this.state(trouble.name) === "present").map((trouble) => trouble.trouble);
  }

  /** Where a valve's indication says that it is: the truth, unless a flight has a part for an indication that may freeze. */
  shown(part) {
    const own = `${part}-indication`;
    return this.state(this.flight.parts.has(own) ? own : part);
  }

  /** What a person last set a part to. */
  setting(part) {
    const own = this.flight.commandsOf.get(part);
    const count = own ? countUpTo(own.times, this.timeS) : 0;
    if (count) return this.flight.document.commands[own.indices[count - 1]].state;
    const known = this.flight.parts.get(part);
    return known?.set ?? known?.start ?? "";
  }
}

function group(entries) {
  const found = new Map();
  entries.forEach((entry, index) => {
    if (!found.has(entry.part)) found.set(entry.part, { times: [], indices: [] });
    const own = found.get(entry.part);
    own.times.push(entry.time_s);
    own.indices.push(index);
  });
  return found;
}
