// What comes out of a worksheet, painted: findings, drawing, table. `wetwing/draw/worksheet_page.py` makes the same for the page as built.

import { make } from "./dom.js";
import { resultText } from "./worksheet_text.js";
import { say } from "./words.js";

const LEVELS = { fits: ["✓", "Fits"], note: ["→", "Note"], beyond: ["!", "Beyond"] };

export function paintAnswer(place, { findings, band, results }, units) {
  place.replaceChildren(...[findingList(findings, units), band && bandFigure(band, units), results.length && table(results, units)].filter(Boolean));
}

function findingList(findings, units) {
  const rows = findings.map(({ level, sentence }) => {
    const [sign, word] = LEVELS[level];
    return make(
      "li", { class: "ww-ws-finding", "data-level": level },
      make("span", { class: "ww-ws-sign", "aria-hidden": "true" }, sign), make("strong", {}, `${word}. `), make("span", {}, say(sentence, units)),
    );
  });
  return make("ul", { class: "ww-ws-findings" }, ...rows);
}

/** The drawing comes from Python as SVG text: parsed as a picture, so that nothing in it can act. */
function bandFigure({ svg, sentence }, units) {
  const source = svg.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ');
  const drawing = new DOMParser().parseFromString(source, "image/svg+xml").documentElement;
  return make("figure", { class: "ww-ws-band" }, document.importNode(drawing, true), make("figcaption", {}, say(sentence, units)));
}

function table(results, units) {
  const heads = ["Result", "Figure", "How it is reckoned", "Paragraph"].map((words) => make("th", { scope: "col" }, words));
  const rows = results.map((own) => make(
    "tr", { class: own.whole ? "ww-ws-whole" : null },
    make("th", { scope: "row" }, own.label),
    make("td", { class: "ww-ws-figure" }, resultText(own, units)),
    make("td", { class: "ww-ws-formula" }, own.formula),
    make("td", { class: "ww-ws-paragraph" }, own.paragraph),
  ));
  return make(
    "table", { class: "ww-ws-results" },
    make("caption", {}, "What comes out"), make("thead", {}, make("tr", {}, ...heads)), make("tbody", {}, ...rows),
  );
}
