// The whole state of a moment in plain sentences, for whoever does not see the drawing.

import { clock } from "./clock.js";
import { figure, rateWords, unitWord, where } from "./figures.js";
import { inSentence, sentenceCase } from "./words.js";

/** Say what a moment shows, as a list of sentences. */
export function describe(flight, timeS, units) {
  const now = flight.at(timeS);
  const kg = (value) => `${figure(value, "kg", units)} ${unitWord("kg", units)}`;
  const perHour = (value) => `${figure(value, "kg/h", units)} ${unitWord("kg/h", units)}`;
  const of = (...kinds) => [...flight.parts.values()].filter((part) => kinds.includes(part.kind));
  const listOf = (parts) => joined(parts.map((part) => inSentence(part.label)));
  const found = [
    `${clock(timeS)} into the flight: ${inSentence(flight.phaseAt(timeS).label)}, ${where(now.quantity("flight.altitude_ft"))}.`,
    `On board: ${kg(now.quantity("total.on_board_kg"))}.`,
  ];
  for (const tank of of("tank")) {
    const state = now.state(tank.name);
    const moving = state === "spilling" ? "spilling" : rateWords(now.quantity(`${tank.name}.rate_kg_h`), units);
    const leaks = now.troubles(tank.name).includes("leak") ? ", leaking" : "";
    found.push(`${tank.label}: ${kg(now.quantity(`${tank.name}.actual_kg`))}, ${moving}${leaks}.`);
  }
  for (const engine of of("engine", "apu")) {
    const state = now.state(engine.name);
    const burns = ["running", "starting"].includes(state) ? `, burning ${perHour(now.quantity(`${engine.name}.flow_kg_h`))}` : "";
    found.push(`${engine.label}: ${state}${burns}.`);
  }
  for (const [state, pumps] of byState(of("pump"), now)) {
    if (["delivering", "flowing back"].includes(state)) {
      const each = pumps.map((pump) => `${inSentence(pump.label)} ${perHour(Math.abs(now.quantity(`${pump.name}.flow_kg_h`)))}`);
      found.push(`${sentenceCase(state)}: ${joined(each)}.`);
    } else {
      found.push(`${sentenceCase(state)}: ${listOf(pumps)}.`);
    }
  }
  for (const [state, valves] of byState(of("valve"), now)) found.push(`${sentenceCase(state)}: ${listOf(valves)}.`);
  const flowing = of("return", "transfer", "jet-pump", "bypass", "outlet").filter((part) => ["flowing", "feeding"].includes(now.state(part.name)));
  for (const part of flowing) found.push(`${part.label}: ${perHour(now.quantity(`${part.name}.flow_kg_h`))}.`);
  for (const vent of of("vent")) {
    if (now.state(vent.name) === "holding") found.push(`${vent.label} holds ${kg(now.quantity(`${vent.name}.surge_kg`))} in its surge space.`);
    if (now.state(vent.name) === "spilling") found.push(`${vent.label} is spilling ${perHour(now.quantity(`${vent.name}.flow_kg_h`))}.`);
  }
  for (const [state, parts] of byState(of("bus", "sensor", "probe", "compensator", "meter", "totaliser", "filter"), now)) {
    if (["dead", "no signal", "bypassed"].includes(state)) found.push(`${sentenceCase(state)}: ${listOf(parts)}.`);
  }
  const troubles = of("trouble").filter((trouble) => now.state(trouble.name) === "present");
  for (const trouble of troubles) found.push(`Trouble: ${inSentence(trouble.label)}.`);
  const active = of("rule").filter((rule) => now.state(rule.name) === "active");
  found.push(active.length ? `Rules active: ${listOf(active)}.` : "No rule of the automatics is active.");
  return found;
}

/** Parts by their state, in the order in which states first appear. */
function byState(parts, now) {
  const found = new Map();
  for (const part of parts) {
    const state = now.state(part.name);
    if (!found.has(state)) found.set(state, []);
    found.get(state).push(part);
  }
  return found;
}

function joined(words) {
  // Labels may hold commas of their own.
  const comma = words.some((word) => word.includes(",")) ? "; " : ", ";
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(comma)} and ${words.at(-1)}`;
}
