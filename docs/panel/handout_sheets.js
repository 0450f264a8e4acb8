// The sheets of a hand-out: the questions, and the key on sheets of its own.

import { exactClock } from "./clock.js";
import { pictureCopy } from "./copies.js";
import { make } from "./dom.js";
import { figure, unitWord, where } from "./figures.js";
import { axesPicture } from "./handout_axes.js";
import { letter } from "./handout_paper.js";
import { compileHooks } from "./paint.js";
import { qrCode } from "./qr.js";
import { codePicture, stateAddress } from "./qr_card.js";

const DOTS = "…………";
// To write on, under the axes.
const LINES = 9;
const CAUTION =
  "A fictional aircraft, for learning. The approved manuals of your own aircraft, your operator's procedures and licensed instruction come first.";

/** @param {object} paper { panel, flight, units, moments, rows, asked, seed, symbols, title } */
export function questionSheets(paper) {
  const { moments } = paper;
  return [
    sheet("Questions",
      head(paper, "Questions"),
      make("p", { class: "ww-sheet-name" }, "Name ", make("span", {}), " Date ", make("span", {})),
      make("p", {}, instructions(paper)),
      tableOf(paper, false),
      codeOf(paper)),
    ...pairs(moments.map((moment, index) => planOf(paper, moment, index))).map((plans) => sheet("Drawings", ...plans)),
    sheet("Axes",
      make("h2", {}, "The flight on paper"),
      make("p", {}, "Draw the mass in each tank over the flight. The letters stand at the moments of the drawings. Write at each bend what made it."),
      axesOf(paper, false),
      ...Array.from({ length: LINES }, () => make("p", { class: "ww-sheet-line" }))),
  ];
}

/** The key: the table filled in, the traces drawn, and what the paper was made from. */
export function keySheets(paper) {
  const { panel, seed } = paper;
  const { aircraft, script } = panel.base.document;
  const edits = panel.edits.map((edit) => make("li", {}, panel.editWords.plain(edit)));
  return [
    sheet("Key",
      head(paper, "Key"),
      make("p", { class: "ww-sheet-made" }, `Seed ${seed}. ${aircraft.title}, revision ${aircraft.revision}. ${script.title}. Page ${panel.dataset.page}.`),
      ...(edits.length ? [make("p", {}, "With these changes of the flight:"), make("ul", {}, ...edits)] : []),
      make("p", {}, "What was asked stands in a frame."),
      tableOf(paper, true),
      axesOf(paper, true)),
  ];
}

function sheet(name, ...content) {
  return make("article", { class: `ww-sheet ww-sheet-${name.toLowerCase()}`, "aria-label": name }, ...content);
}

function head({ title, panel }, kind) {
  const { aircraft, script } = panel.base.document;
  return make("header", {},
    make("h2", {}, `${title}: ${kind.toLowerCase()}`),
    make("p", { class: "ww-sheet-of" }, `${aircraft.title}, revision ${aircraft.revision}. ${script.title}.`),
    make("p", { class: "ww-sheet-caution" }, CAUTION));
}

function instructions({ symbols }) {
  const see = symbols ? "Each drawing shows levels, flows and symbols; where it has dots, words are left out." : "The drawings show the parts alone, without what they do.";
  return `Fill in the empty cells: the mass in each tank, the state of each part. ${see}`;
}

function pairs(list) {
  return Array.from({ length: Math.ceil(list.length / 2) }, (_own, index) => list.slice(index * 2, index * 2 + 2));
}

function words(paper, row, timeS) {
  const moment = paper.flight.at(timeS);
  if (row.what === "state") return moment.state(row.part);
  return figure(moment.quantity(`${row.part}.actual_kg`), "kg", paper.units);
}

function tableOf(paper, key) {
  const { moments, rows, asked, units } = paper;
  const unit = unitWord("kg", units);
  const heads = moments.map(({ timeS, title }, index) =>
    make("th", { scope: "col" }, make("strong", {}, letter(index)), make("span", {}, ` ${exactClock(timeS)} `), make("small", {}, title)));
  const body = rows.map((row, at) =>
    make("tr", {},
      make("th", { scope: "row" }, row.label, ...(row.what === "mass" ? [make("small", {}, ` ${unit}`)] : [])),
      ...moments.map(({ timeS }, column) => {
        const open = asked[at][column];
        if (key) return make("td", open ? { class: "ww-asked" } : {}, words(paper, row, timeS));
        return open ? make("td", { class: "ww-empty" }, make("span", { class: "ww-hidden" }, "to fill in")) : make("td", {}, words(paper, row, timeS));
      })));
  return make("table", {}, make("thead", {}, make("tr", {}, make("th", { scope: "col" }, "Part"), ...heads)), make("tbody", {}, ...body));
}

/** The plan at one moment. Of what is asked the words are left out. */
function planOf(paper, { timeS, title }, index) {
  const { panel, flight, units, rows, asked, symbols } = paper;
  const picture = pictureCopy(panel.querySelector(".ww-fit-snug > .ww-plan"));
  for (const own of picture.querySelectorAll(".ww-chosen")) own.classList.remove("ww-chosen");
  const moment = flight.at(timeS);
  for (const paint of compileHooks(picture)) paint(moment, units, null);
  if (!symbols) atRest(picture);
  rows.forEach((row, at) => asked[at][index] && leaveOut(picture, row.part));
  picture.setAttribute("aria-label", `Drawing ${letter(index)}: the fuel system at ${exactClock(timeS)}`);
  const place = `${flight.phaseAt(timeS).label}, ${where(moment.quantity("flight.altitude_ft"))}`;
  return make("figure", {}, make("figcaption", {}, make("strong", {}, `${letter(index)} `), `${title}: ${exactClock(timeS)}, ${place}`), picture);
}

/** Dots for the figures and states of a part. */
function leaveOut(picture, part) {
  const own = (name) => name?.split(" + ").some((each) => each.replace(/^-/, "").startsWith(`${part}.`));
  for (const found of picture.querySelectorAll("[data-value], [data-state], [data-rate]")) {
    const { value, state, rate } = found.dataset;
    if (state === part || own(value) || own(rate)) found.textContent = DOTS;
  }
}

/** The parts alone: no flow, no level, no symbol of a state. */
function atRest(picture) {
  for (const own of picture.querySelectorAll("[data-now]")) own.removeAttribute("data-now");
  for (const own of picture.querySelectorAll("[data-fill], .flows, .spills, .leaks")) own.setAttribute("display", "none");
  for (const own of picture.querySelectorAll("[data-value], [data-state], [data-rate]")) own.textContent = DOTS;
}

function axesOf({ flight, units, moments }, drawn) {
  const times = moments.map(({ timeS }, index) => ({ timeS, letter: letter(index) }));
  return axesPicture({ flight, units, drawn, times });
}

function codeOf({ panel }) {
  const address = stateAddress(panel);
  const block = make("div", { class: "ww-sheet-code" });
  if (!address) return block;
  const { squares } = qrCode(address);
  if (squares) block.append(codePicture(squares, "QR code of the address beside it"));
  block.append(make("p", {}, `This flight in the browser: ${address}`));
  return block;
}
