// A list that a reader puts in order. An item is known by its right place, 1 to n: the sequence 1, 2, 3, … is the flight's own.

/** The sequence with the item at `from` put at `to`; held to the list. */
export function moved(sequence, from, to) {
  const held = Math.min(Math.max(to, 0), sequence.length - 1);
  const rest = sequence.filter((_item, at) => at !== from);
  return [...rest.slice(0, held), sequence[from], ...rest.slice(held)];
}

/** How far a sequence is right: { right, inPlace, count, firstWrong }, with `firstWrong` the first place that is not. */
export function judgeOrder(sequence) {
  const inPlace = sequence.filter((item, at) => item === at + 1).length;
  const wrong = sequence.findIndex((item, at) => item !== at + 1);
  return { right: wrong < 0, inPlace, count: sequence.length, firstWrong: wrong < 0 ? null : wrong + 1 };
}

/** A kept sequence, or null where it is none of `count` items. */
export function readSequence(text, count) {
  const found = text.split(" ").map(Number);
  const whole = found.length === count && [...found].sort((a, b) => a - b).every((item, at) => item === at + 1);
  return whole ? found : null;
}

/** Where a dragged item belongs: the index of the row whose middle lies below `y`, not counting the item itself. */
export function placeAt(middles, y) {
  const below = middles.findIndex((middle) => y < middle);
  return below < 0 ? middles.length : below;
}
