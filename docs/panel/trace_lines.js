// The lines of a trace as numbers: a flight's columns, blank where an instrument shows nothing, on one axis of time.

import { departureTime } from "./ledger.js";
import { countUpTo } from "./record.js";

const NO_SIGNAL = "no signal";
const NOTHING = 1e-9;

/** The lines of one flight; columns are worked out once. A line is as `wetwing/draw/panel_traces.py` describes it. */
export class FlightLines {
  constructor(flight, engines) {
    this.flight = flight;
    this.engines = engines;
    this.columns = new Map();
    this.blankSpans = new Map();
  }

  /** The value of a line at each keyframe, in the record's units; null where nothing is shown. */
  column(line) {
    if (!this.columns.has(line.name)) this.columns.set(line.name, this.makeColumn(line));
    return this.columns.get(line.name);
  }

  /** The value of a line at one time; null where nothing is shown. */
  at(line, timeS) {
    const { flight } = this;
    if (timeS > flight.durationS || this.blanks(line).some(({ start, end }) => start <= timeS && timeS < end)) return null;
    const moment = flight.at(timeS);
    return sum(line, (name) => moment.quantity(name));
  }

  /** Whether a line is ever anything but nothing. */
  rests(line) {
    return this.column(line).every((value) => value === null || Math.abs(value) < NOTHING);
  }

  makeColumn(line) {
    const { timeS, quantities } = this.flight;
    const blanks = this.blanks(line);
    const value = (name, index) => {
      const values = quantities[name] ?? [0];
      return values.length === 1 ? values[0] : values[index];
    };
    return timeS.map((time, index) => {
      // Of two keyframes of one time the first is before the change.
      const before = timeS[index + 1] === time;
      const blank = blanks.some(({ start, end }) => (before ? start < time && time <= end : start <= time && time < end));
      return blank ? null : sum(line, (name) => value(name, index));
    });
  }

  /** When a line's instrument shows nothing. */
  blanks(line) {
    if (!this.blankSpans.has(line.name)) this.blankSpans.set(line.name, this.makeBlanks(line));
    return this.blankSpans.get(line.name);
  }

  makeBlanks(line) {
    const { flight } = this;
    const found = [];
    for (const parts of line.blank ?? []) {
      const known = parts.filter((part) => flight.parts.has(part));
      if (known.length) found.push(...known.map((part) => silent(flight, part)).reduce(overlaps));
    }
    if (line.since === "departure") {
      const began = departureTime(flight, this.engines, Infinity);
      found.push({ start: 0, end: began ?? Infinity });
    }
    // At its very end a flight still shows what it showed just before.
    return found.map(({ start, end }) => ({ start, end: end >= flight.durationS ? Infinity : end }));
  }
}

function silent(flight, part) {
  return flight.spans(part).filter(({ state }) => state === NO_SIGNAL);
}

/** When both of two lists of spans hold. */
function overlaps(some, others) {
  const found = [];
  for (const a of some) {
    for (const b of others) {
      const [start, end] = [Math.max(a.start, b.start), Math.min(a.end, b.end)];
      if (start < end) found.push({ start, end });
    }
  }
  return found;
}

function sum(line, valueOf) {
  if (!line.terms) return valueOf(line.name);
  let total = 0;
  for (const term of line.terms) total += term.startsWith("-") ? -valueOf(term.slice(1)) : valueOf(term);
  return total;
}

/** The times at which one or two flights are drawn between two times: their keyframes, a jump twice, and the two ends. */
export function timeAxis(flights, startS, endS) {
  const times = new Map([[startS, 1], [endS, 1]]);
  for (const { timeS } of flights) {
    timeS.forEach((time, index) => {
      if (time <= startS || time >= endS) return;
      const jumps = timeS[index - 1] === time || timeS[index + 1] === time;
      times.set(time, Math.max(times.get(time) ?? 1, jumps ? 2 : 1));
    });
  }
  return [...times].sort((a, b) => a[0] - b[0]).flatMap(([time, count]) => (count === 2 ? [time, time] : [time]));
}

/** A column on other times: linear between keyframes; of a time that stands twice first the value before, then the one after. */
export function resample(timeS, values, times) {
  return times.map((time, index) => {
    if (time > timeS.at(-1)) return null;
    const before = times[index + 1] === time && times[index - 1] !== time;
    const after = countUpTo(timeS, time);
    if (before) {
      let first = after - 1;
      while (first > 0 && timeS[first - 1] === time) first -= 1;
      if (timeS[first] === time) return values[first];
    } else if (timeS[after - 1] === time) {
      return values[after - 1];
    }
    if (after === 0) return null;
    const [left, right] = [values[after - 1], values[after]];
    if (left === null || right === null || right === undefined) return null;
    return left + ((time - timeS[after - 1]) / (timeS[after] - timeS[after - 1])) * (right - left);
  });
}

/**
 * A scale that holds all values, with round steps: { low, high, step, ticks }. With `fromZero` it begins at zero where that is
 * near: for what is an amount, not for a place on a scale such as a temperature.
 */
export function roundScale(columns, { most = 4, fromZero = true } = {}) {
  let [low, high] = [Infinity, -Infinity];
  for (const column of columns) {
    for (const value of column) {
      if (value === null) continue;
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
  }
  if (low > high) [low, high] = [0, 1];
  if (fromZero && low >= 0 && low <= high / 2) low = 0;
  if (fromZero && high <= 0 && high >= low / 2) high = 0;
  if (high - low < NOTHING) {
    const room = Math.max(Math.abs(high) * 0.05, 1);
    [low, high] = [low === 0 ? 0 : low - room, high + room];
  }
  const rough = (high - low) / most;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((times) => times * power).find((own) => own >= rough * (1 - NOTHING));
  const [first, last] = [Math.floor(low / step + NOTHING), Math.ceil(high / step - NOTHING)];
  const ticks = [];
  for (let at = first; at <= last; at += 1) ticks.push(at * step);
  return { low: first * step, high: last * step, step, ticks };
}

/** What parts that come in sets have in common: `main-left` and `main-right`, `engine-1` and `engine-2`. */
export function family(name) {
  const [subject] = name.split(".");
  if (["total", "flight"].includes(subject)) return name;
  return subject.replace(/(^|-)(left|right)(?=-|$)/, "$1*").replace(/(^|-)\d+(?=-|$)/, "$1*");
}
