// The rules of a hidden trouble: which one a case hides, what a look shows, how an answer is judged. Nothing here paints.

export const LAST_CASE = 999;

/** Which of `count` troubles a case hides: the same on every machine, so that a class can take one case together. */
export function troubleOf(caseNumber, count) {
  return (Math.imul(caseNumber, 2654435761) >>> 9) % count;
}

/** Read a typed case. @returns {{caseNumber: number}|{problem: string}} */
export function readCase(text) {
  const found = /^\s*(\d{1,4})\s*$/.exec(text);
  const caseNumber = found ? Number(found[1]) : 0;
  if (caseNumber >= 1 && caseNumber <= LAST_CASE) return { caseNumber };
  return { problem: `'${text.trim().slice(0, 20)}' is no case. Write a whole number from 1 to ${LAST_CASE}.` };
}

/** What the page holds of a trouble, read from its obscured form: hidden from a glance, not from whoever looks for it. */
export function revealed(text) {
  const bytes = Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0));
  return JSON.parse(new TextDecoder().decode(bytes));
}

/** @returns {{right: boolean, words: string}} an answer against the hidden { part, kind } */
export function judgeAnswer(answer, hidden) {
  const [part, kind] = [answer.part === hidden.part, answer.kind === hidden.kind];
  if (part && kind) return { right: true, words: "" };
  if (part) return { right: false, words: "The part is right; what is wrong with it is not. This counts as a look." };
  if (kind) return { right: false, words: "Something is wrong in that way, but not that part. This counts as a look." };
  return { right: false, words: "Neither the part nor what is wrong with it. This counts as a look." };
}

const FIGURES = [
  ["actual_kg", "holds", "kg"], ["gauged_kg", "its gauge reads", "kg"], ["rate_kg_h", "its level changes by", "kg/h"], ["flow_kg_h", "its flow is", "kg/h"],
  ["pressure_bar", "its pressure is", "bar"], ["used_kg", "has used", "kg"], ["surge_kg", "holds in its surge space", "kg"],
];

/**
 * What a look inside a part shows at a moment: its state, since when, why, and its true figures. It never names a trouble: that a
 * state has no cause in the fuel is all that is said.
 * @returns {{state: string, sinceS: number|null, sentence: string|null, figures: {words: string, value: number, unit: string}[]}}
 */
export function look(flight, part, timeS) {
  const moment = flight.at(timeS);
  const last = flight.lastChange(part, timeS);
  const change = last === null ? null : flight.changes[last];
  const figures = FIGURES.filter(([name]) => `${part}.${name}` in flight.quantities).map(([name, words, unit]) =>
    ({ words, unit, value: moment.quantity(`${part}.${name}`) }));
  const sentence = change?.reason.kind === "trouble" ? null : (change?.reason.sentence ?? "");
  return { state: moment.state(part), sinceS: change?.time_s ?? null, sentence, figures };
}
