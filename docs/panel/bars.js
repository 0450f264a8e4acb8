// Bars, gaps and ticks of the feed chart: arithmetic alone. `wetwing/draw/chart_bars.py` draws the recorded flight by the
// same rules; a test holds the two to one answer.

const NOTHING_KG_H = 1;
const LEAST_PX = 1.6;
const STEPS_S = [60, 120, 300, 600, 900, 1800, 3600, 7200];
const HELD = "stopped by automatics";
const DELIVERING = "delivering";

/** The path of a row's bars: as high as the flow, around the row's middle line, gone where nothing flows. */
export function barPath(timeS, flowKgH, across, middle, pxPerKgH) {
  let path = "";
  let run = [];
  timeS.forEach((time, index) => {
    const size = Math.abs(flowKgH[index]);
    const half = size < NOTHING_KG_H ? 0 : Math.max(size * pxPerKgH, LEAST_PX) / 2;
    const place = [tenth(across(time)), tenth(half)];
    if (half > 0) append(run, place);
    else if (run.length) {
      path += closed(run, middle);
      run = [];
    }
  });
  return run.length ? path + closed(run, middle) : path;
}

function append(run, place) {
  const [last, before] = [run.at(-1), run.at(-2)];
  const adds = !before || !(
    (last[1] === before[1] && before[1] === place[1]) || (last[0] === before[0] && before[0] === place[0])
  );
  if (adds) run.push(place);
  else run[run.length - 1] = place;
}

function closed(run, middle) {
  const first = run[0][0];
  const points = run.at(-1)[0] - first < 0.8 ? [[first, run[0][1]], [tenth(first + 0.8), run.at(-1)[1]]] : run;
  const upper = points.map(([x, half]) => `${number(x)},${number(middle - half)}`).join("L");
  const lower = points.slice().reverse().map(([x, half]) => `${number(x)},${number(middle + half)}`).join("L");
  return `M${upper}L${lower}Z`;
}

/** Write a coordinate with at most two decimals. */
export function number(value) {
  const text = value.toFixed(2).replace(/\.?0+$/, "");
  return text === "-0" ? "0" : text;
}

function tenth(value) {
  return Math.floor(value * 10 + 0.5) / 10;
}

/** When every one of a row's pumps rests and at least one is held by the automatics, and why. */
export function heldGaps(flight, pumps, ruleLabels) {
  const spans = pumps.map((pump) => flight.spans(pump));
  const edges = [...new Set(spans.flat().flatMap(({ start, end }) => [start, end]))].sort((a, b) => a - b);
  const gaps = [];
  for (let index = 0; index + 1 < edges.length; index += 1) {
    const [start, end] = [edges[index], edges[index + 1]];
    const now = spans.map((own) => own.find((span) => span.start <= start && start < span.end)?.state);
    if (!now.includes(HELD) || now.includes(DELIVERING)) continue;
    const why = whyHeld(flight, pumps[now.indexOf(HELD)], start, ruleLabels);
    const last = gaps.at(-1);
    if (last && last.end === start && last.why === why) last.end = end;
    else gaps.push({ start, end, why });
  }
  return gaps;
}

function whyHeld(flight, pump, timeS, ruleLabels) {
  const behind = (index, turned) => {
    const causes = index === null ? [] : flight.changes[index].reason.causes.map((cause) => flight.changes[cause]);
    return causes.filter((change) => change.part in ruleLabels && change.to === turned);
  };
  const found = [...behind(flight.lastChange(pump, timeS), "active"), ...behind(flight.nextChange(pump, timeS), "inactive")];
  return found.length ? ruleLabels[found[0].part] : "held";
}

/** Where ticks of time stand, and their words, at least `leastPx` apart. */
export function ticks(startS, endS, pxPerS, leastPx = 62) {
  const step = STEPS_S.find((own) => own * pxPerS >= leastPx) ?? STEPS_S.at(-1);
  const found = [];
  for (let time = Math.ceil(startS / step) * step; time <= endS; time += step) {
    const minutes = String(Math.floor(time / 60) % 60).padStart(2, "0");
    found.push({ timeS: time, words: step % 3600 === 0 ? `${time / 3600} h` : `${Math.floor(time / 3600)}:${minutes}` });
  }
  return found;
}

/** Cut a column to [`startS`, `endS`], with the values at the cuts put in. @returns {{timeS: number[], values: number[]}} */
export function cut(timeS, values, startS, endS) {
  const found = { timeS: [], values: [] };
  const keep = (time, value) => {
    found.timeS.push(time);
    found.values.push(value);
  };
  timeS.forEach((time, index) => {
    const [before, after] = [timeS[index - 1], time];
    for (const edge of [startS, endS]) {
      if (index > 0 && before < edge && edge < after) {
        const share = (edge - before) / (after - before);
        keep(edge, values[index - 1] + share * (values[index] - values[index - 1]));
      }
    }
    if (time >= startS && time <= endS) keep(time, values[index]);
  });
  return found;
}
