// A small made-up record whose every answer can be worked out by hand.

import { RecordedFlight } from "../../docs/panel/record.js";

const part = (name, label, kind, states, extra = {}) => ({ name, label, kind, states, settings: [], start: states[0], ...extra });

export function sampleDocument() {
  return {
    format: "wetwing-record/1",
    aircraft: { name: "sample", title: "Sample", revision: "A" },
    script: { name: "short", title: "Short" },
    edits: [],
    duration_s: 1000,
    ended: null,
    phases: [
      { name: "start", label: "Start", start_s: 0 },
      { name: "cruise", label: "Cruise", start_s: 400 },
    ],
    parts: [
      part("tank", "Main left", "tank", ["holding", "spilling"]),
      part("pump", "Main left aft pump", "pump", ["off", "delivering", "stopped by automatics"], { settings: ["off", "on"], set: "off" }),
      part("selector", "Feed selector", "control", ["automatic", "manual"], { settings: ["automatic", "manual"], set: "automatic" }),
      part("engine", "Engine 1", "engine", ["off", "starting", "running"]),
      part("hold", "Slat hold", "rule", ["inactive", "active"]),
      part("vent", "Vent left", "vent", ["dry", "spilling"]),
    ],
    // A jump at 200: 90 kg before it, 60 kg after.
    time_s: [0, 100, 200, 200, 1000],
    quantities: {
      "tank.actual_kg": [100, 100, 90, 60, 20],
      "tank.rate_kg_h": [0],
      "pump.flow_kg_h": [0, 0, 0, 1000, 1000],
      "total.on_board_kg": [100, 100, 90, 60, 20],
      "total.gauged_kg": [98, 98, 88, 58, 18],
      "total.burned_kg": [0, 0, 10, 10, 50],
      "total.uplifted_kg": [0],
      "total.vented_kg": [0, 0, 0, 30, 30],
      "engine.flow_kg_h": [0, 0, 0, 200, 200],
      "engine.used_kg": [700, 700, 0, 0, 40],
      "vent.flow_kg_h": [0],
      "flight.altitude_ft": [0, 0, 0, 0, 35000],
    },
    commands: [
      { time_s: 100, part: "pump", state: "on" },
      { time_s: 500, part: "selector", state: "manual" },
    ],
    changes: [
      change(100, "pump", "off", "stopped by automatics", "action", "Switched on; {150 s} to wait.", []),
      change(200, "engine", "off", "starting", "physics", "Its valve is open.", []),
      change(200, "pump", "stopped by automatics", "delivering", "rule", "The engine starts.", [1, 0]),
      change(300, "engine", "starting", "running", "physics", "It is at idle.", [1]),
      change(600, "hold", "inactive", "active", "rule", "The slats are out.", []),
      change(600, "pump", "delivering", "stopped by automatics", "rule", "The hold is active.", [4, 3]),
    ],
  };
}

function change(timeS, partName, from, to, kind, sentence, causes) {
  return { time_s: timeS, part: partName, from, to, reason: { kind, name: partName, sentence, facts: [], causes } };
}

export function sampleFlight(alter = (document) => document) {
  return new RecordedFlight(alter(sampleDocument()));
}
