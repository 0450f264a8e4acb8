// Axes of time against mass, with the flight's phases: empty to draw in, or with the tanks' masses drawn.

import { number, ticks } from "./bars.js";
import { makeSvg } from "./dom.js";
import { figure, unitWord } from "./figures.js";
import { factor } from "./trace_words.js";

const [WIDTH, HEIGHT] = [1000, 430];
const [LEFT, RIGHT, TOP, FLOOR] = [74, 868, 46, 388];
const LABEL = 15;
const DASHES = ["", "9 5", "2 4", "12 4 2 4", "5 3", "1 3 8 3"];

/** The top of the axis, and the step of its lines: 4 to 8 lines of 1, 2 or 5 times a power of ten. */
export function massAxis(mostKg) {
  const most = Math.max(mostKg, 10);
  let step = 10 ** Math.floor(Math.log10(most / 4));
  for (const times of [1, 2, 5, 10]) {
    if (most / (step * times) <= 8) {
      step *= times;
      break;
    }
  }
  return { stepKg: step, topKg: Math.ceil(most / step) * step };
}

/** Heights of labels that would lie upon one another, moved apart, in the order given. */
export function apart(heights, least) {
  const order = heights.map((_own, index) => index).sort((a, b) => heights[a] - heights[b]);
  const placed = [...heights];
  for (let at = 1; at < order.length; at += 1) {
    placed[order[at]] = Math.max(placed[order[at]], placed[order[at - 1]] + least);
  }
  return placed;
}

/** Letters that stand too near to be told apart share one place: "D E". */
export function gathered(letters, least = LABEL) {
  const found = [];
  for (const own of letters) {
    const last = found.at(-1);
    if (last && own.x - last.right < least) Object.assign(last, { right: own.x, words: `${last.words} ${own.words}` });
    else found.push({ left: own.x, right: own.x, words: own.words });
  }
  return found.map(({ left, right, words }) => ({ x: (left + right) / 2, words }));
}

/** @param {{flight: object, units: string, drawn: boolean, times: {letter: string, timeS: number}[]}} shown */
export function axesPicture({ flight, units, drawn, times }) {
  const tanks = [...flight.parts.values()].filter((part) => part.kind === "tank");
  const columns = tanks.map((tank) => flight.column(`${tank.name}.actual_kg`));
  // Round in the reader's unit, and drawn in the record's.
  const scale = factor("kg", units);
  const axis = massAxis(Math.max(...columns.flat()) * scale * (units === "t" ? 1000 : 1));
  const [stepKg, topKg] = [axis.stepKg, axis.topKg].map((size) => size / scale / (units === "t" ? 1000 : 1));
  const across = (timeS) => LEFT + (timeS / flight.durationS) * (RIGHT - LEFT);
  const up = (kg) => FLOOR - (kg / topKg) * (FLOOR - TOP);
  const label = drawn ? "The mass in each tank over the flight" : "Empty axes: time across, mass in each tank up";
  const root = makeSvg("svg", { class: "ww-axes", viewBox: `0 0 ${WIDTH} ${HEIGHT}`, role: "img", "aria-label": label });
  for (const [index, phase] of flight.phases.entries()) root.append(...phaseBlock(flight, phase, index, across));
  for (let kg = 0; kg <= topKg + stepKg / 2; kg += stepKg) {
    const y = number(up(kg));
    root.append(line("grid", LEFT, RIGHT, y, y), text(LEFT - 8, up(kg) + 5, figure(kg, "kg", units), "end"));
  }
  root.append(text(LEFT - 8, TOP - 16, unitWord("kg", units), "end"));
  for (const { timeS, words } of ticks(0, flight.durationS, (RIGHT - LEFT) / flight.durationS)) {
    const x = number(across(timeS));
    root.append(line("grid", x, x, TOP, FLOOR), text(across(timeS), FLOOR + 20, words, "middle"));
  }
  for (const own of times) root.append(line("moment", number(across(own.timeS)), number(across(own.timeS)), TOP, FLOOR));
  for (const { x, words } of gathered(times.map((own) => ({ x: across(own.timeS), words: own.letter })))) {
    root.append(text(x, FLOOR + 38, words, "middle", "letter"));
  }
  root.append(line("axis", LEFT, LEFT, TOP, FLOOR), line("axis", LEFT, RIGHT, FLOOR, FLOOR));
  if (drawn) root.append(...traces(flight, tanks, columns, across, up));
  return root;
}

function phaseBlock(flight, phase, index, across) {
  const [left, right] = [across(phase.start_s), across(flight.phaseEnd(phase))];
  const found = [makeSvg("rect", { class: index % 2 ? "phase odd" : "phase", x: number(left), y: 4, width: number(right - left), height: 22 })];
  if (right - left > phase.label.length * 8.5) found.push(text((left + right) / 2, 20, phase.label, "middle"));
  return found;
}

function traces(flight, tanks, columns, across, up) {
  const ends = apart(columns.map((column) => up(column.at(-1))), LABEL + 2);
  // A stack that has grown below the axis is pushed up again as a whole.
  const over = Math.max(0, Math.max(...ends) - (FLOOR - 2));
  return tanks.flatMap((tank, index) => {
    const points = flight.timeS.map((timeS, at) => `${number(across(timeS))},${number(up(columns[index][at]))}`);
    const dash = DASHES[index % DASHES.length];
    const y = ends[index] - over;
    return [
      makeSvg("polyline", { class: "trace", points: points.join(" "), "stroke-dasharray": dash }),
      makeSvg("path", { class: "leader", d: `M${RIGHT},${number(up(columns[index].at(-1)))}L${RIGHT + 10},${number(y)}h22`, "stroke-dasharray": dash }),
      text(RIGHT + 36, y + 5, tank.label, "start"),
    ];
  });
}

function line(name, x1, x2, y1, y2) {
  return makeSvg("line", { class: name, x1, x2, y1, y2 });
}

function text(x, y, words, anchor, name = "") {
  return makeSvg("text", { class: name, x: number(x), y: number(y), "text-anchor": anchor, "font-size": LABEL }, words);
}
