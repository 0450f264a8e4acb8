// Draws the rows of a chart as the page's script does, for a test that compares them with those drawn in Python.

import { readFileSync } from "node:fs";

import { barPath, heldGaps } from "../../docs/panel/bars.js";
import { RecordedFlight } from "../../docs/panel/record.js";

if (process.argv[2]) {
  const { record, rules, left, right, rows } = JSON.parse(readFileSync(process.argv[2], "utf8"));
  const flight = new RecordedFlight(record);
  const across = (timeS) => left + (timeS / flight.durationS) * (right - left);
  const drawn = rows.map((row) => ({
    bar: barPath(flight.timeS, flight.column(row["row-flow"]), across, Number(row.middle), Number(row["px-per-kg-h"])),
    gaps: row.pumps ? heldGaps(flight, row.pumps.split(" "), rules) : [],
  }));
  process.stdout.write(JSON.stringify(drawn));
}
