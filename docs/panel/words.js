// Sentences of the simulation in the reader's units. `wetwing/teach/words.py` says the same.

import { KG_PER_LB } from "./figures.js";

const MARK = /\{([-−]?[\d,]+(?:\.\d+)?)[ \u00a0]?([^{}\d]*)\}/g;

/** Replace each mark of a sentence, `{520 kg/h}`, by the figure in the reader's units. */
export function say(sentence, units = "kg") {
  return sentence.replace(MARK, (_mark, amount, unit) => said(amount, unit, units));
}

/** Put a sentence's first letter in upper case. */
export function sentenceCase(text) {
  return text === "" ? text : text[0].toUpperCase() + text.slice(1);
}

/** A part's label inside a sentence: `Main left aft pump` as `main left aft pump`, but `APU valve` as it is. */
export function inSentence(label) {
  return /^[A-Z]{2}/.test(label) || /^Engine \d/.test(label) ? label : label[0].toLowerCase() + label.slice(1);
}

function said(amount, unit, units) {
  if (units === "lb" && (unit === "kg" || unit === "kg/h")) {
    const pounds = Math.floor(Number(amount.replaceAll(",", "").replace("−", "-")) / KG_PER_LB + 0.5);
    return `${pounds < 0 ? "−" : ""}${grouped(String(Math.abs(pounds)))} ${unit.replace("kg", "lb")}`;
  }
  // The sign stands apart: the whole part of -0.23 is -0, which has no sign as text.
  const sign = /^[-−]/.test(amount) ? "−" : "";
  const [whole, decimals] = amount.replace(/^[-−]/, "").replaceAll(",", "").split(".");
  return `${sign}${grouped(whole)}${decimals === undefined ? "" : `.${decimals}`} ${unit}`.trimEnd();
}

function grouped(whole) {
  return String(Number(whole)).replace(/\B(?=(\d{3})+$)/g, ",");
}
