// The arithmetic of a sketched line. A line is an array of values at evenly spaced times, null where nothing is drawn yet; what
// lies between two drawn values is straight. The flight's line is a list of (time, value), two at one time where it jumps.

export const INTERVALS = 48;

/** A line with nothing but its given start. */
export function emptyLine(startValue) {
  return Array.from({ length: INTERVALS + 1 }, (_none, at) => (at === 0 ? startValue : null));
}

/** Draw straight from one sample to another, both included; the start is given and stays. */
export function drawn(line, from, fromValue, to, toValue) {
  const [low, high] = [Math.min(from, to), Math.max(from, to)];
  return line.map((value, at) => {
    if (at === 0 || at < low || at > high) return value;
    return from === to ? toValue : fromValue + ((toValue - fromValue) * (at - from)) / (to - from);
  });
}

/** Set one of the numbered samples, `every` apart; what was drawn by hand between it and its neighbours becomes straight. */
export function typed(line, at, value, every) {
  return line.map((own, index) => {
    if (index === 0) return own;
    if (index === at) return value;
    return Math.abs(index - at) < every ? null : own;
  });
}

/** The line with its gaps drawn straight; what follows its last drawn sample stays null. */
export function filled(line) {
  const found = [...line];
  let last = 0;
  line.forEach((value, at) => {
    if (value === null) return;
    for (let between = last + 1; between < at; between += 1) {
      found[between] = found[last] + ((value - found[last]) * (between - last)) / (at - last);
    }
    last = at;
  });
  return found;
}

/** Index of the last drawn sample. */
export function drawnTo(line) {
  return line.findLastIndex((value) => value !== null);
}

/** The flight's value at a time; at a jump the later one. */
export function valueAt(points, timeS) {
  const right = points.findIndex(([at]) => at > timeS);
  if (right < 0) return points.at(-1)[1];
  if (right === 0) return points[0][1];
  const [[fromS, from], [toS, to]] = [points[right - 1], points[right]];
  return from + ((to - from) * (timeS - fromS)) / (toS - fromS);
}

/** The least and greatest value of the flight within `slackS` of a time. */
export function band(points, timeS, slackS) {
  const [fromS, toS] = [Math.max(timeS - slackS, points[0][0]), Math.min(timeS + slackS, points.at(-1)[0])];
  const inside = points.filter(([at]) => at >= fromS && at <= toS).map(([, value]) => value);
  const values = [...inside, valueAt(points, fromS), valueAt(points, toS)];
  return { least: Math.min(...values), most: Math.max(...values) };
}

/**
 * Judge a whole line against the flight: right where it is nowhere farther than `within` from what the flight shows within
 * `slackS` of that time. `worst` is the sample that is farthest off.
 */
export function judgeSketch(line, { points, fromS, toS, within, slackS }) {
  let worst = { at: 0, apart: -1 };
  line.forEach((value, at) => {
    const timeS = fromS + ((toS - fromS) * at) / INTERVALS;
    const { least, most } = band(points, timeS, slackS);
    const apart = Math.max(least - value, value - most, 0);
    if (apart > worst.apart) worst = { at, timeS, yours: value, theirs: valueAt(points, timeS), apart };
  });
  return { right: worst.apart <= within, worst };
}

/** The bend of the flight's line that is nearest to a time, or null where it has none. */
export function nearestBend(bends, timeS) {
  return bends.reduce((best, own) => (best && Math.abs(best.time_s - timeS) <= Math.abs(own.time_s - timeS) ? best : own), null);
}

/** Round figures for an axis, about `wanted` steps between two values. */
export function ticks(least, most, wanted = 5) {
  const rough = (most - least) / wanted;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 2.5, 5, 10].map((factor) => factor * power).find((own) => own >= rough - 1e-12);
  const first = Math.ceil(least / step - 1e-9);
  const count = Math.floor(most / step + 1e-9) - first;
  return Array.from({ length: count + 1 }, (_none, at) => (first + at) * step);
}

/** Round times for an axis: whole minutes or hours, at most `most` of them. */
export function timeTicks(fromS, toS, most = 6) {
  const steps = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200];
  const step = steps.find((own) => (toS - fromS) / own <= most) ?? 14400;
  const first = Math.ceil(fromS / step);
  return Array.from({ length: Math.max(Math.floor(toS / step) - first + 1, 0) }, (_none, at) => (first + at) * step);
}
