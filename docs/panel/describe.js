// The whole state of a moment in plain sentences, for whoever does not see the drawing.

import { clock } from "./clock.js";
import { amount, rateWords, where } from "./figures.js";
import { densityKgL } from "./paint.js";
import { inSentence, sayLabel, sentenceCase } from "./words.js";

/** Say what a moment shows, as a list of sentences. What calls for attention comes first, then where the fuel is and goes. */
export function describe(flight, timeS, units) {
  const now = flight.at(timeS);
  const of = (...kinds) => [...flight.parts.values()].filter((part) => kinds.includes(part.kind));
  return [
    whenWords(flight, timeS, now),
    ...alertWords(of("alert"), now),
    ...troubleWords(of("trouble"), now, units),
    `On board: ${amount(now.quantity("total.on_board_kg"), "kg", units)}.`,
    ...upliftWords(now, units),
    ...of("tank").map((tank) => tankWords(tank, now, units)),
    ...of("engine", "apu").map((engine) => engineWords(engine, now, units)),
    ...pumpWords(of("pump"), now, units),
    ...valveWords(of("valve"), now),
    ...flowWords(of("return", "transfer", "jet-pump", "bypass", "outlet"), now, units),
    ...ventWords(of("vent"), now, units),
    ...deadWords(of("bus", "sensor", "probe", "compensator", "meter", "totaliser", "filter"), now),
    ruleWords(of("rule").filter((rule) => now.state(rule.name) === "active")),
  ];
}

/** When and where a moment is. */
export function whenWords(flight, timeS, now) {
  return `${clock(timeS)} into the flight: ${inSentence(flight.phaseAt(timeS).label)}, ${where(now.quantity("flight.altitude_ft"))}.`;
}

/** The alerts that are on, the gravest first. */
export function alertWords(alerts, now) {
  const on = alerts.filter((alert) => now.state(alert.name) === "on");
  if (on.length === 0) return ["No alerts."];
  const grave = ["warning", "caution", "advisory"];
  const sorted = [...on].sort((a, b) => grave.indexOf(a.level) - grave.indexOf(b.level));
  return sorted.map((alert) => `${sentenceCase(alert.level ?? "alert")}: ${inSentence(alert.label)}.`);
}

/** What was taken on, while that is the whole story: before an engine has begun to burn it. */
export function upliftWords(now, units) {
  const kg = now.quantity("total.uplifted_kg");
  const onGround = now.quantity("flight.altitude_ft") < 50;
  return kg >= 1 && onGround ? [`Taken on: ${amount(kg, "kg", units)}, ${amount(now.quantity("total.uplifted_l"), "L", units)}.`] : [];
}

function troubleWords(troubles, now, units) {
  const present = troubles.filter((trouble) => now.state(trouble.name) === "present");
  return present.map((trouble) => `Trouble: ${inSentence(sayLabel(trouble.label, units))}.`);
}

function tankWords(tank, now, units) {
  const state = now.state(tank.name);
  const moving = state === "spilling" ? "spilling" : rateWords(now.quantity(`${tank.name}.rate_kg_h`), units);
  const leaks = now.troubles(tank.name).includes("leak") ? ", leaking" : "";
  const density = densityKgL(tank.name, now);
  const volume = Number.isNaN(density) ? "" : `, ${amount(now.quantity(`${tank.name}.volume_l`), "L", units)} at ${amount(density, "kg/L", units)}`;
  return `${tank.label}: ${amount(now.quantity(`${tank.name}.actual_kg`), "kg", units)}${volume}, ${moving}${leaks}.`;
}

function engineWords(engine, now, units) {
  const state = now.state(engine.name);
  const burns = ["running", "starting"].includes(state) ? `, burning ${amount(now.quantity(`${engine.name}.flow_kg_h`), "kg/h", units)}` : "";
  return `${engine.label}: ${state}${burns}.`;
}

function pumpWords(pumps, now, units) {
  return byState(pumps, now).map(([state, own]) => {
    if (!["delivering", "flowing back"].includes(state)) return `${sentenceCase(state)}: ${listOf(own)}.`;
    const each = own.map((pump) => `${inSentence(pump.label)} ${amount(Math.abs(now.quantity(`${pump.name}.flow_kg_h`)), "kg/h", units)}`);
    return `${sentenceCase(state)}: ${joined(each)}.`;
  });
}

/** Valves by their state; one that is not as it is told, or not as it shows, has a sentence of its own. */
function valveWords(valves, now) {
  const odd = (valve) => [toldWords(valve, now), ...shownWords(valve, now)].filter(Boolean);
  const usual = valves.filter((valve) => odd(valve).length === 0);
  const own = valves.filter((valve) => odd(valve).length > 0);
  return [
    ...own.map((valve) => `${valve.label}: ${now.state(valve.name)}, ${odd(valve).join(", ")}.`),
    ...byState(usual, now).map(([state, each]) => `${sentenceCase(state)}: ${listOf(each)}.`),
  ];
}

/** What a valve is told by a person, where it is not so. */
export function toldWords(valve, now) {
  const told = now.setting(valve.name);
  return valve.settings.length && told !== now.state(valve.name) ? `told ${told}` : null;
}

function shownWords(valve, now) {
  const shown = now.shown(valve.name);
  const stuck = now.troubles(valve.name).some((kind) => kind.startsWith("stuck"));
  return [shown === now.state(valve.name) ? null : `shown ${shown}`, stuck ? "stuck" : null];
}

function flowWords(parts, now, units) {
  const flowing = parts.filter((part) => ["flowing", "feeding"].includes(now.state(part.name)));
  return flowing.map((part) => `${part.label}: ${amount(now.quantity(`${part.name}.flow_kg_h`), "kg/h", units)}.`);
}

function ventWords(vents, now, units) {
  const words = {
    holding: (vent) => `${vent.label} holds ${amount(now.quantity(`${vent.name}.surge_kg`), "kg", units)} in its surge space.`,
    spilling: (vent) => `${vent.label} is spilling ${amount(now.quantity(`${vent.name}.flow_kg_h`), "kg/h", units)}.`,
  };
  return vents.filter((vent) => now.state(vent.name) in words).map((vent) => words[now.state(vent.name)](vent));
}

function deadWords(parts, now) {
  return byState(parts, now)
    .filter(([state]) => ["dead", "no signal", "bypassed"].includes(state))
    .map(([state, own]) => `${sentenceCase(state)}: ${listOf(own)}.`);
}

function ruleWords(active) {
  return active.length ? `Rules active: ${listOf(active)}.` : "No rule of the automatics is active.";
}

/** Parts by their state, in the order in which states first appear: pairs of a state and its parts. */
export function byState(parts, now) {
  const found = new Map();
  for (const part of parts) {
    const state = now.state(part.name);
    if (!found.has(state)) found.set(state, []);
    found.get(state).push(part);
  }
  return [...found];
}

/** Labels as a list in a sentence. */
export function listOf(parts) {
  return joined(parts.map((part) => inSentence(part.label)));
}

function joined(words) {
  // Labels may hold commas of their own.
  const comma = words.some((word) => word.includes(",")) ? "; " : ", ";
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(comma)} and ${words.at(-1)}`;
}
