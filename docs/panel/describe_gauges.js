// What a crew would see at a moment, in plain sentences.

import { alertWords, byState, listOf, toldWords, upliftWords, whenWords } from "./describe.js";
import { amount } from "./figures.js";
import { sentenceCase } from "./words.js";

/** Say what the gauges show: `now` is a moment of the gauges, which knows nothing else. */
export function describeGauges(now, units) {
  const { flight, timeS } = now;
  const of = (...kinds) => [...flight.parts.values()].filter((part) => kinds.includes(part.kind));
  return [
    whenWords(flight, timeS, now),
    "On the gauges: what a crew would see.",
    ...alertWords(of("alert"), now),
    totalWords(now, units),
    ...upliftWords(now, units),
    ...of("tank").map((tank) => tankWords(tank, now, units)),
    ...of("engine", "apu").map((engine) => engineWords(engine, now, units)),
    ...byState(of("pump").filter((pump) => pump.settings.length), now).map(([state, pumps]) => `Switched ${state}: ${listOf(pumps)}.`),
    ...valveWords(of("valve"), now),
    ...byState(of("meter", "totaliser"), now)
      .filter(([state]) => state === "no signal")
      .map(([state, own]) => `${sentenceCase(state)}: ${listOf(own)}.`),
  ];
}

function totalWords(now, units) {
  const kg = now.quantity("total.on_board_kg");
  return Number.isNaN(kg) ? "Total of the gauges: blank." : `Total of the gauges: ${amount(kg, "kg", units)}.`;
}

function tankWords(tank, now, units) {
  const kg = now.quantity(`${tank.name}.gauged_kg`);
  return Number.isNaN(kg) ? `${tank.label}: gauge blank, no signal.` : `${tank.label}: gauge ${amount(kg, "kg", units)}.`;
}

function engineWords(engine, now, units) {
  const state = now.state(engine.name);
  const flow = now.quantity(`${engine.name}.flow_kg_h`);
  const words = [`${engine.label}: ${state}`];
  if (!Number.isNaN(flow) && ["running", "starting"].includes(state)) words.push(`by its meter ${amount(flow, "kg/h", units)}`);
  if (engine.kind === "engine") words.push(`used ${amount(now.quantity(`${engine.name}.used_kg`), "kg", units)}`);
  return `${words.join(", ")}.`;
}

function valveWords(valves, now) {
  const odd = valves.filter((valve) => toldWords(valve, now));
  return [
    ...odd.map((valve) => `${valve.label}: shown ${now.state(valve.name)}, ${toldWords(valve, now)}.`),
    ...byState(valves.filter((valve) => !odd.includes(valve)), now).map(([state, own]) => `Shown ${state}: ${listOf(own)}.`),
  ];
}
