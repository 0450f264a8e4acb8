// A flight as comma-separated values: a row for each keyframe, a column for each quantity with its unit, and one for each state.

import { clock } from "./clock.js";

// By how a quantity's name ends; the longer ending first.
const UNITS = [
  ["_kg_h", "kg/h"], ["_kn_m", "kN m"], ["_kg", "kg"], ["_bar", "bar"], ["_c", "°C"], ["_l", "L"], ["_ft", "ft"], ["_deg", "degrees"],
  ["_percent", "%"], ["mach", "Mach"], ["_share", "share of 1"], ["fill", "share of 1"],
];

/** The unit of a quantity, from its name. */
export function unitOf(name) {
  return UNITS.find(([ending]) => name.endsWith(ending))?.[1] ?? "";
}

/** Write a whole flight. */
export function flightCsv(flight) {
  const names = Object.keys(flight.quantities);
  const parts = [...flight.parts.values()].filter((part) => part.states?.length > 1 || flight.byPart.has(part.name));
  const head = [
    "time [s]", "time [h:mm:ss]", "phase",
    ...names.map((name) => (unitOf(name) ? `${name} [${unitOf(name)}]` : name)),
    ...parts.map((part) => `${part.name} [state]`),
  ];
  const columns = names.map((name) => flight.quantities[name]);
  const spans = parts.map((part) => flight.spans(part.name));
  const places = parts.map(() => 0);
  const rows = flight.timeS.map((timeS, index) => {
    const states = spans.map((own, at) => {
      while (places[at] + 1 < own.length && own[places[at] + 1].start <= timeS && isLast(flight, index)) places[at] += 1;
      return own[places[at]].state;
    });
    const values = columns.map((column) => (column.length === 1 ? column[0] : column[index]));
    return [timeS, clock(timeS), flight.phaseAt(timeS).label, ...values, ...states];
  });
  return [head, ...rows].map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}

/** At a jump two keyframes share a time: the first is still as before. */
function isLast(flight, index) {
  return flight.timeS[index + 1] !== flight.timeS[index];
}

function cell(value) {
  const text = String(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
