// What every question has: how sure are you, Check, the result in words, and its place among the results.

import { answered, nameOf, SURE, sureWords } from "./answers.js";
import { AnswerStore, PLACES } from "./answers_store.js";
import { make, nextId, setText } from "./dom.js";

export const store = new AnswerStore();
let told = false;

/** A kind of question adds: `given()`, `show(answer)` and `reveal(judged)`. */
export class Question {
  constructor(field) {
    this.field = field;
    this.page = field.dataset.wwPage;
    this.name = field.dataset.wwQuestion;
    this.kind = field.dataset.wwKind;
    this.answer = field.querySelector(".ww-answer");
    this.build();
    // The answer is not read by chance: it opens by the check, and stays closed to a click before it.
    this.answer.hidden = true;
  }

  build() {
    const name = nextId(`${this.name}-sure`);
    this.sure = SURE.map(([value, words]) => {
      const radio = make("input", { type: "radio", name, value });
      return { radio, label: make("label", {}, radio, make("span", {}, words)) };
    });
    const row = make(
      "div", { class: "ww-sure", role: "radiogroup", "aria-label": "How sure are you?" },
      make("span", { class: "ww-sure-title", "aria-hidden": "true" }, "How sure are you?"),
      make("div", { class: "ww-seg" }, ...this.sure.map(({ label }) => label)),
    );
    this.check = make("button", { type: "button", class: "ww-check ww-primary" }, "Check");
    this.result = make("p", { class: "ww-result", role: "status" });
    this.keeping = make("p", { class: "ww-keeping", hidden: true });
    this.answer.before(row, this.check, this.result, this.keeping);
    this.check.addEventListener("click", () => this.judge());
  }

  sureness() {
    return this.sure.find(({ radio }) => radio.checked)?.radio.value ?? null;
  }

  judge() {
    const given = this.given();
    if (given.problem) return this.refuse(given.problem);
    if (this.sureness() === null) {
      this.refuse("Say how sure you are, then check.");
      this.sure[0].radio.focus();
      return undefined;
    }
    this.say(given);
    this.keep(given);
    return undefined;
  }

  refuse(words) {
    setText(this.result, words);
    this.result.dataset.result = "none";
  }

  /** Say whether the answer is right, and show why. */
  say(given) {
    setText(this.result, `${given.right ? "Right" : "Not so"} (${sureWords(this.sureness())}). ${given.words}`.trim());
    this.result.dataset.result = given.right ? "right" : "wrong";
    this.answer.hidden = false;
    this.answer.open = true;
    this.reveal(given);
  }

  keep({ answer, right }) {
    const { page, name: question, kind } = this;
    const own = { page, question, kind, title: pageTitle(), ask: askOf(this.field), answer, right, sure: this.sureness() };
    this.keepRecord(answered(store.read(nameOf({ page, question })), { ...own, at: new Date().toISOString() }));
  }

  keepRecord(record) {
    const words = PLACES[store.write(record)];
    if (!words || told) return;
    told = true;
    setText(this.keeping, words);
    this.keeping.hidden = false;
  }

  /** The reader is changing the answer: what was said of the last one goes. */
  forget() {
    setText(this.result, "");
    delete this.result.dataset.result;
    this.answer.hidden = true;
  }

  /** Show what the reader answered before, on this device. */
  restore() {
    const before = store.read(nameOf({ page: this.page, question: this.name }));
    if (!before || !this.show(before.answer)) return;
    for (const { radio } of this.sure) radio.checked = radio.value === before.sure;
    const given = this.given();
    if (!given.problem) this.say(given);
  }
}

export function pageTitle() {
  return (document.querySelector("h1")?.firstChild?.textContent ?? document.title).trim().slice(0, 200);
}

export function askOf(field) {
  return field.querySelector("legend").textContent.replace(/\s+/g, " ").trim().slice(0, 400);
}
