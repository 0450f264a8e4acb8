// Order: a list whose items are put in the order in which they happen, by buttons, by arrow keys, or by dragging.

import { make, setText } from "./dom.js";
import { judgeOrder, moved, placeAt, readSequence } from "./order.js";
import { Question } from "./question.js";

export class Order extends Question {
  constructor(field) {
    super(field);
    this.list = field.querySelector(".ww-order-list");
    this.items = new Map([...this.list.children].map((item) => [Number(item.dataset.place), item]));
    this.words = new Map([...this.items].map(([place, item]) => [place, item.textContent.trim()]));
    this.rows = [...field.querySelectorAll(".ww-order-right > li")];
    this.sequence = [...this.items.keys()];
    this.spoken = make("p", { class: "ww-hidden", "aria-live": "polite" });
    this.list.after(this.spoken);
    for (const [place, item] of this.items) this.equip(place, item);
    this.number();
    this.restore();
  }

  /** Give an item its buttons and its handle. */
  equip(place, item) {
    const words = make("span", { class: "ww-order-words" }, ...item.childNodes);
    const number = make("span", { class: "ww-order-place", "aria-hidden": "true" });
    const grip = make("span", { class: "ww-order-grip", "aria-hidden": "true" }, "⋮⋮");
    const button = (way, sign, name) => {
      const made = make("button", { type: "button", class: "ww-order-move", "aria-label": `${name}: ${this.words.get(place)}` }, sign);
      made.addEventListener("click", () => this.move(place, way, made));
      made.addEventListener("keydown", (event) => this.arrow(event, place, made));
      return made;
    };
    item.replaceChildren(grip, number, words, make("span", { class: "ww-order-buttons" }, button(-1, "↑", "Move up"), button(1, "↓", "Move down")));
    item.addEventListener("pointerdown", (event) => this.drag(event, place, item));
  }

  arrow(event, place, button) {
    const way = { ArrowUp: -1, ArrowDown: 1 }[event.key];
    if (!way) return;
    event.preventDefault();
    this.move(place, way, button);
  }

  move(place, way, button) {
    const from = this.sequence.indexOf(place);
    const to = from + way;
    if (to < 0 || to >= this.sequence.length) return this.speak(`${this.words.get(place)} Already ${way < 0 ? "first" : "last"}.`);
    this.take(moved(this.sequence, from, to), place);
    // A press may leave the focus elsewhere, as it does in some browsers.
    button.focus();
    return this.speak(`${this.words.get(place)} Now ${to + 1} of ${this.sequence.length}.`);
  }

  speak(words) {
    setText(this.spoken, words);
  }

  /** Take another sequence. The item that is being moved stays where it is, and the others go round it: it keeps focus and finger. */
  take(sequence, moving = sequence[0]) {
    this.sequence = sequence;
    this.forget();
    const still = this.items.get(moving);
    const at = sequence.indexOf(moving);
    still.before(...sequence.slice(0, at).map((place) => this.items.get(place)));
    still.after(...sequence.slice(at + 1).map((place) => this.items.get(place)));
    this.number();
  }

  number() {
    this.sequence.forEach((place, at) => setText(this.items.get(place).querySelector(".ww-order-place"), `${at + 1}`));
  }

  /** Drag an item: it takes its new place as soon as the pointer is over it. Escape puts it back. */
  drag(event, place, item) {
    // By the finger the list is to be scrolled, so only the handle drags there.
    const wanted = event.pointerType === "mouse" || event.target.closest(".ww-order-grip");
    if (event.button !== 0 || !wanted || event.target.closest("button")) return;
    event.preventDefault();
    const before = this.sequence;
    item.classList.add("ww-dragged");
    const end = new AbortController();
    const follow = (moving) => {
      const others = [...this.list.children].filter((other) => other !== item);
      const to = placeAt(others.map((other) => middle(other)), moving.clientY);
      const from = this.sequence.indexOf(place);
      if (to !== from) this.take(moved(this.sequence, from, to), place);
    };
    const finish = () => {
      end.abort();
      item.classList.remove("ww-dragged");
    };
    const key = ({ key: pressed }) => {
      if (pressed !== "Escape") return;
      this.take(before, place);
      finish();
    };
    const options = { signal: end.signal };
    document.addEventListener("pointermove", follow, options);
    document.addEventListener("pointerup", finish, options);
    document.addEventListener("pointercancel", finish, options);
    document.addEventListener("keydown", key, options);
  }

  given() {
    const { right, inPlace, count } = judgeOrder(this.sequence);
    const words = right ? "" : `${inPlace === 0 ? "None" : inPlace} of ${count} ${inPlace === 1 ? "stands" : "stand"} in place; compare below.`;
    return { answer: this.sequence.join(" "), right, words };
  }

  show(answer) {
    const sequence = readSequence(answer, this.items.size);
    if (sequence) this.take(sequence);
    return sequence !== null;
  }

  /** Put the reader's own item beside the flight's at each place. */
  reveal() {
    this.rows.forEach((row, at) => {
      const own = this.sequence[at];
      const same = own === at + 1;
      row.querySelector(".ww-order-yours")?.remove();
      const said = same ? "Yours: the same" : `Yours: ${this.words.get(own)}`;
      row.append(make("span", { class: "ww-order-yours", "data-same": String(same) }, said));
    });
  }
}

function middle(element) {
  const { top, height } = element.getBoundingClientRect();
  return top + height / 2;
}
