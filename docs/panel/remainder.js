// What the simulation sends of a flight when the page has another of the same script: the rows from where they part.
// `wetwing/flight/remainder.py` writes it, and holds that the rows before are those of the page's own flight.

const FORMAT = "wetwing-remainder/1";

/**
 * The record of a flight, or of what is flown of it, from the record that the page has and the remainder.
 * @throws {Error} where the remainder does not go on from this record
 */
export function joined(record, remainder) {
  const { after, format } = remainder;
  if (format !== FORMAT) throw new Error(`The remainder's format is '${format}'; this page reads '${FORMAT}'.`);
  const rows = after.keyframes;
  if (rows > 0 && record.time_s[rows - 1] !== after.time_s) {
    throw new Error(`The remainder goes on from ${after.time_s} s; the record at hand has ${record.time_s[rows - 1]} s there.`);
  }
  const { edits, duration_s, ended, parts = record.parts } = remainder;
  const count = remainder.time_s.length;
  const columns = Object.entries(record.quantities).map(([name, own]) => [name, column(own, rows, remainder.quantities[name] ?? [], count)]);
  return {
    ...record,
    edits,
    duration_s,
    ended,
    parts,
    time_s: [...record.time_s.slice(0, rows), ...remainder.time_s],
    quantities: Object.fromEntries(columns),
    changes: [...record.changes.slice(0, after.changes), ...remainder.changes],
    commands: [...record.commands.slice(0, after.commands), ...remainder.commands],
  };
}

/** A column of one value stands for as many as there are rows. */
function column(own, rows, later, count) {
  const before = own.length === 1 ? new Array(rows).fill(own[0]) : own.slice(0, rows);
  const whole = before.concat(later.length === 1 ? new Array(count).fill(later[0]) : later);
  return whole.every((value) => value === whole[0]) ? whole.slice(0, 1) : whole;
}
