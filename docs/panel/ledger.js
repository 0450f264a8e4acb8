// Fuel as arithmetic: what a flight began with, what is left, what was used, and the difference.

import { shownMasses, unitWord } from "./figures.js";

/** When the last run of the fuel-used figures began: the first start of an engine before `timeS`, or null before any. */
export function departureTime(flight, engines, timeS) {
  let first = null;
  for (const engine of engines) {
    const own = flight.byPart.get(engine);
    own?.indices.forEach((index) => {
      const change = flight.changes[index];
      const starts = change.to === "starting" || (change.to === "running" && change.from === "off");
      if (starts && change.time_s <= timeS && (first === null || change.time_s < first)) first = change.time_s;
    });
  }
  return first;
}

/**
 * The ledger at a time. In flight: departure = on board + used + jettisoned + difference, by the gauges, the fuel-used figures and
 * the outlets' meters, as a crew sees it. Before the first engine starts: arrived + taken on = on board + burned, as it is.
 */
export function ledger(flight, engines, timeS, probes = {}) {
  const now = flight.at(timeS);
  const departed = departureTime(flight, engines, timeS);
  if (departed === null) {
    const arrived = flight.at(0);
    return {
      kind: "ground",
      arrivedKg: arrived.quantity("total.on_board_kg"),
      upliftedKg: now.quantity("total.uplifted_kg") - arrived.quantity("total.uplifted_kg"),
      onBoardKg: now.quantity("total.on_board_kg"),
      burnedKg: now.quantity("total.burned_kg") - arrived.quantity("total.burned_kg"),
      lostKg: ["vented", "leaked", "discharged"].reduce((sum, way) => sum + now.quantity(`total.${way}_kg`) - arrived.quantity(`total.${way}_kg`), 0),
    };
  }
  const departure = flight.at(departed);
  if (isBlank(flight, departure, probes) || isBlank(flight, now, probes)) return { kind: "blank", departedS: departed };
  const usedKg = engines.reduce((sum, engine) => {
    // An engine that has not started yet still shows the last flight's figure.
    const started = departureTime(flight, [engine], timeS) !== null;
    return sum + (started ? now.quantity(`${engine}.used_kg`) : 0);
  }, 0);
  const departureKg = departure.quantity("total.gauged_kg");
  const onBoardKg = now.quantity("total.gauged_kg");
  // What was jettisoned passed the outlets' meters: known, and no part of the difference.
  const jettisonedKg = now.quantity("total.discharged_kg") - departure.quantity("total.discharged_kg");
  const differenceKg = departureKg - onBoardKg - usedKg - jettisonedKg;
  return { kind: "flight", departedS: departed, departureKg, onBoardKg, usedKg, jettisonedKg, differenceKg };
}

/**
 * The sums of a ledger in words, of figures that add up as they are written: a reader who does the sum comes to the figure shown.
 * In flight `{ departure, sum, difference }`; on the ground `{ first, second }`.
 */
export function ledgerWords(sums, units) {
  const sign = unitWord("kg", units);
  const { of, text } = shownMasses(units);
  if (sums.kind === "flight") {
    const [departure, onBoard, used, jettisoned] = [sums.departureKg, sums.onBoardKg, sums.usedKg, sums.jettisonedKg].map(of);
    const gone = sums.jettisonedKg > 0 ? ` + jettisoned ${text(jettisoned)}` : "";
    const whole = onBoard + used + jettisoned;
    return {
      departure: `${text(departure)}\u00a0${sign}`,
      sum: `By the gauges ${text(onBoard)} + used ${text(used)}${gone} = ${text(whole)}\u00a0${sign}`,
      difference: `Difference ${text(departure - whole)}\u00a0${sign}`,
    };
  }
  const [arrived, uplifted, burned, lost] = [sums.arrivedKg, sums.upliftedKg, sums.burnedKg, sums.lostKg].map(of);
  const whole = arrived + uplifted;
  return {
    first: `Left by the last flight ${text(arrived)} + taken on ${text(uplifted)} = ${text(whole)}\u00a0${sign}`,
    second: `In the tanks ${text(whole - burned - lost)}, unusable fuel included, + burned ${text(burned)} + lost ${text(lost)}\u00a0${sign}`,
  };
}

/** Whether the total shows nothing: the totaliser, or the gauge of any tank, is blank. */
function isBlank(flight, moment, probes) {
  const silent = (name) => moment.state(name) === "no signal";
  const totalisers = [...flight.parts.values()].filter((part) => part.kind === "totaliser");
  return totalisers.some((part) => silent(part.name)) || Object.values(probes).some((own) => own.length > 0 && own.every(silent));
}
