// Fuel as arithmetic: what a flight began with, what is left, what was used, and the difference.

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
 * The ledger at a time. In flight: departure = on board + used + difference, by the gauges and the fuel-used figures, as a crew
 * sees it. Before the first engine starts: arrived + taken on = on board + burned, as it is.
 */
export function ledger(flight, engines, timeS) {
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
      ventedKg: now.quantity("total.vented_kg") - arrived.quantity("total.vented_kg"),
    };
  }
  const departure = flight.at(departed);
  const usedKg = engines.reduce((sum, engine) => {
    // An engine that has not started yet still shows the last flight's figure.
    const started = departureTime(flight, [engine], timeS) !== null;
    return sum + (started ? now.quantity(`${engine}.used_kg`) : 0);
  }, 0);
  const departureKg = departure.quantity("total.gauged_kg");
  const onBoardKg = now.quantity("total.gauged_kg");
  return { kind: "flight", departedS: departed, departureKg, onBoardKg, usedKg, differenceKg: departureKg - onBoardKg - usedKg };
}
