// The valid name that a wrong one was most likely meant to be.

/** @returns {string|null} the name nearest to `wrong`, if one is near enough to be worth saying */
export function nearest(wrong, names) {
  let best = null;
  let least = Math.max(2, Math.floor(wrong.length * 0.4)) + 1;
  for (const name of names) {
    const distance = editDistance(wrong.slice(0, 80).toLowerCase(), name.toLowerCase());
    if (distance < least) [best, least] = [name, distance];
  }
  return best;
}

/** How many letters must be put in, left out or changed to make one word the other. */
export function editDistance(a, b) {
  let row = Array.from({ length: b.length + 1 }, (_none, index) => index);
  for (let i = 1; i <= a.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= b.length; j += 1) {
      next.push(Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1)));
    }
    row = next;
  }
  return row[b.length];
}
