// Undo and redo: the lists of changes that were shown before, and those that undoing left.

const MOST = 200;

export class EditHistory {
  constructor() {
    this.past = [];
    this.future = [];
  }

  /** A list was left for another: what had been undone can't be redone any more. */
  push(edits) {
    this.past.push(edits);
    if (this.past.length > MOST) this.past.shift();
    this.future = [];
  }

  /** The list that a step leads to, `back` or `forth`; null where there is none. */
  peek(way) {
    return (way === "back" ? this.past : this.future).at(-1) ?? null;
  }

  /** A step is done: `left` is the list that it left. */
  step(way, left) {
    const [from, to] = way === "back" ? [this.past, this.future] : [this.future, this.past];
    from.pop();
    to.push(left);
  }
}
