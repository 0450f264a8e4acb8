// Judging a figure: right within the tolerance; else the known slip that comes nearest to it, if one is near.

/**
 * @param {number} value in the flight's own units
 * @param {{amount: number, tolerance: number, slips: {amount: number, why: string}[]}} wish
 * @returns {{right: boolean, slip: object|null}}
 */
export function judgeNumber(value, { amount, tolerance, slips }) {
  // A reader who rounds as the answer does must not fail by the last bit.
  const right = Math.abs(value - amount) <= tolerance * (1 + 1e-9);
  if (right) return { right, slip: null };
  const near = slips.filter((slip) => Math.abs(value - slip.amount) <= Math.max(tolerance, 0.005 * Math.abs(slip.amount)));
  near.sort((a, b) => Math.abs(value - a.amount) - Math.abs(value - b.amount));
  return { right, slip: near[0] ?? null };
}
