// Where the names of lines stand in a trace: beside their own line, where no other line and no other name is near.

const TRIES = 30;
const GAP = 5;
const CLOSE = 4;
// A line that rises so much from one place to the next runs right through a name.
const STEEP = 8;
// A name that would cover more than this of other lines is left to the key.
const MOST_COVERED = 0.16;

/**
 * @param {{label: string, family: string, width: number, ys: (number|null)[]}[]} lines heights at evenly spaced places across
 * @param {{width: number, height: number, lineHeight: number}} room
 * @returns {({x: number, y: number, text: string, width: number}|null)[]} the middle of each name; null where it has no place
 */
export function labelPlaces(lines, room) {
  const joined = joinTwins(lines);
  const placed = [];
  return lines.map((line, index) => {
    const own = joined[index];
    if (own === null) return null;
    const best = bestPlace(lines, index, own, room, placed);
    if (best) placed.push(best);
    return best && { x: best.x, y: best.y, text: own.text, width: own.width };
  });
}

/** Lines of one family that run together all the way share one name; it stands at the first of them. */
function joinTwins(lines) {
  const found = lines.map((line) => ({ text: line.label, width: line.width, with: [] }));
  lines.forEach((line, index) => {
    const earlier = lines.findIndex((other, at) => at < index && other.family === line.family && found[at] && together(other, line));
    if (earlier < 0) return;
    const own = found[earlier];
    own.text = `${own.text}, ${lower(line.label)}`;
    own.width += line.width;
    own.with.push(index);
    found[index] = null;
  });
  return found;
}

function lower(label) {
  return /^[A-Z]{2}|^Engine \d/.test(label) ? label : label[0].toLowerCase() + label.slice(1);
}

function together(one, other) {
  let [both, near] = [0, 0];
  one.ys.forEach((y, at) => {
    if (y === null || other.ys[at] === null) return;
    both += 1;
    if (Math.abs(y - other.ys[at]) <= CLOSE) near += 1;
  });
  return both > 0 && near / both > 0.92;
}

function bestPlace(lines, index, own, { width, height, lineHeight }, placed) {
  const half = own.width / 2;
  let best = null;
  for (let tried = 0; tried < TRIES; tried += 1) {
    const x = half + 4 + ((width - own.width - 8) * tried) / (TRIES - 1);
    const spread = heights(lines[index], x - half, x + half, width);
    if (spread === null) continue;
    for (const y of [spread.top - GAP - lineHeight / 2, spread.bottom + GAP + lineHeight / 2]) {
      const box = { left: x - half, right: x + half, top: y - lineHeight / 2, bottom: y + lineHeight / 2, x, y };
      if (box.left < 0 || box.right > width || box.top < 0 || box.bottom > height) continue;
      if (placed.some((other) => meets(box, other))) continue;
      const cost = costOf(lines, index, own, box, width) + (spread.bottom - spread.top) / height;
      if (cost <= MOST_COVERED && (best === null || cost < best.cost)) best = { ...box, cost };
    }
  }
  return best;
}

/** How much of a name's box other lines cover; a line nearer to it than its own counts as well. */
function costOf(lines, index, own, box, width) {
  let cost = 0;
  lines.forEach((line, at) => {
    if (at === index || own.with.includes(at)) return;
    const [left, right] = range(line, box.left, box.right, width);
    let [count, covered] = [0, 0];
    for (let place = left; place < right; place += 1) {
      const [before, after] = [line.ys[place], line.ys[place + 1]];
      count += 1;
      if (before === null || after === null || before === undefined || after === undefined) continue;
      const [top, bottom] = [Math.min(before, after), Math.max(before, after)];
      if (bottom > box.top - 2 && top < box.bottom + 2) covered += bottom - top > STEEP ? 4 : 1;
      else if (bottom > box.top - GAP * 2 && top < box.bottom + GAP * 2) covered += 0.25;
    }
    if (count) cost += covered / count;
  });
  return cost;
}

function heights(line, fromX, toX, width) {
  const [left, right] = range(line, fromX, toX, width);
  let [top, bottom] = [Infinity, -Infinity];
  for (let place = left; place <= right; place += 1) {
    const y = line.ys[place];
    if (y === null || y === undefined) return null;
    top = Math.min(top, y);
    bottom = Math.max(bottom, y);
  }
  return top > bottom ? null : { top, bottom };
}

function range(line, fromX, toX, width) {
  const last = line.ys.length - 1;
  return [Math.floor((Math.max(fromX, 0) / width) * last), Math.ceil((Math.min(toX, width) / width) * last)];
}

function meets(one, other) {
  return one.left < other.right + 6 && other.left < one.right + 6 && one.top < other.bottom + 2 && other.top < one.bottom + 2;
}
