// What lies ahead of a moment, as the simulation answers it, in plain sentences in the reader's units.

import { exactClock, span } from "./clock.js";
import { exactMass, figure, unitWord } from "./figures.js";
import { inSentence, say } from "./words.js";

// As far as the simulation looks: a day.
const LONGEST_S = 86400;
const TANK_WORDS = { holding: "it stops spilling over", spilling: "it is full and spills over" };

/**
 * @param {object} ahead as the page on the document of a flight describes it
 * @returns {{title: string, lines: {words: string, timeS?: number, part?: string, reason?: string}[]}[]}
 */
export function aheadWords(ahead, flight, units) {
  return [
    { title: "How long the fuel lasts", lines: enduranceLines(ahead, units) },
    { title: "At the destination", lines: landingLines(ahead, units) },
    { title: "The next level of each tank", lines: levelLines(ahead, flight, units) },
    { title: "Between the wings", lines: [imbalanceLine(ahead, units)] },
    { title: "Fuel that the engines don't get", lines: strandedLines(ahead, units) },
  ];
}

function mass(valueKg, units) {
  return `${figure(valueKg, "kg", units)} ${unitWord("kg", units)}`;
}

function enduranceLines({ endurance, time_s: timeS }, units) {
  if (endurance === null) return [{ words: "No engine runs at this moment." }];
  const { lasts_s: lastsS, usable_kg: usableKg, on_board_kg: onBoardKg, sentence } = endurance;
  const reason = say(sentence, units);
  if (lastsS >= LONGEST_S - 1) return [{ words: "If nobody touches anything more, for more than a day at this height and speed.", reason }];
  return [
    {
      words:
        `If nobody touches anything more, every engine runs for another ${span(lastsS)} at this height and speed, until ${exactClock(timeS + lastsS)}. ` +
        `Usable are ${mass(usableKg, units)} of the ${mass(onBoardKg, units)} on board.`,
      reason,
    },
  ];
}

function landingLines({ landing, time_s: timeS }, units) {
  if (landing === null) return [{ words: "This flight does not land after this moment, or its script has no final reserve." }];
  const { time_s: downS, sentence, standing } = landing;
  return [{ words: `The landing is in ${span(downS - timeS)}, at `, timeS: downS, reason: `${say(sentence, units)} Standing: ${standing}.` }];
}

function levelLines({ levels, time_s: timeS }, flight, units) {
  const lines = levels.map(({ tank, part, after, in_s: inS, sentence }) => ({
    words: `${flight.label(tank)}, in ${span(inS)}: ${part === tank ? (TANK_WORDS[after] ?? after) : `${inSentence(flight.label(part))} ${after}`}, at `,
    timeS: timeS + inS,
    part,
    reason: say(sentence, units),
  }));
  const told = new Set(levels.map(({ tank }) => tank));
  const silent = [...flight.parts.values()].filter(({ kind, name }) => kind === "tank" && !told.has(name));
  if (silent.length) lines.push({ words: `No level comes any more in this flight: ${silent.map(({ label }) => label).join(", ")}.` });
  return lines;
}

function imbalanceLine({ imbalance }, units) {
  const { now_kg: nowKg, sentence } = imbalance;
  const size = exactMass(Math.abs(nowKg), units);
  const words =
    size === "0" ? "Both wings hold the same." : `The ${nowKg > 0 ? "right" : "left"} wing holds ${size} ${unitWord("kg", units)} more than the other.`;
  return { words, reason: say(sentence, units) };
}

function strandedLines({ endurance }, units) {
  if (endurance === null) return [{ words: "No engine runs, so nothing can be said of it." }];
  if (endurance.stranded.length === 0) return [{ words: "None beyond what is unusable, as things stand." }];
  return endurance.stranded.map(({ sentence }) => ({ words: say(sentence, units) }));
}
