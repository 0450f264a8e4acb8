// What a finger means on a drawing: a symbol of a few pixels is hit by more than those.

/** A target for a finger is at least so wide and so high, px. */
const FINGER_PX = 24;

/**
 * The small thing that a touch means, or null: the nearest of those whose box, made large enough for a finger, holds the place;
 * of two as near, the smaller.
 * @param {{name: string, left: number, right: number, top: number, bottom: number}[]} boxes of everything that can be touched, px
 */
export function smallThingAt(boxes, x, y) {
  let [best, least, smallest] = [null, Infinity, Infinity];
  for (const { name, left, right, top, bottom } of boxes) {
    const [wide, high] = [right - left, bottom - top];
    if (wide === 0 || (wide >= FINGER_PX && high >= FINGER_PX)) continue;
    const [fromX, fromY] = [Math.abs(x - (left + right) / 2), Math.abs(y - (top + bottom) / 2)];
    if (fromX > Math.max(wide, FINGER_PX) / 2 || fromY > Math.max(high, FINGER_PX) / 2) continue;
    const apart = Math.hypot(Math.max(fromX - wide / 2, 0), Math.max(fromY - high / 2, 0));
    if (apart < least || (apart === least && wide * high < smallest)) [best, least, smallest] = [name, apart, wide * high];
  }
  return best;
}
