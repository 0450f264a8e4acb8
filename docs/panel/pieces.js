// The pieces of a panel beyond its core. Each is a class: `new Piece(panel, facts)`, then `update(shown)` at each painting,
// with shown = { flight, earlier, timeS, part, units, moment }. A piece finds its markup in the panel, and rests where it has none.

export const PIECES = [];
