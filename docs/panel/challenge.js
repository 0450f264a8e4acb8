// A hidden trouble: the panel shows the gauges alone; each look inside counts; then name the part and what is wrong with it.

import { answered, nameOf, sureWords } from "./answers.js";
import { because } from "./because.js";
import { judgeAnswer, look, readCase, revealed, troubleOf } from "./challenge_game.js";
import { exactClock } from "./clock.js";
import { kept, make, nextId, setProblem, setText } from "./dom.js";
import { amount } from "./figures.js";
import { goToFrame, handOn, holdPlace } from "./keyboard_place.js";
import { askOf, pageTitle, Question, store } from "./question.js";
import { unitsNow } from "./question_units.js";
import { RecordedFlight } from "./record.js";
import { say, sayState, sentenceCase } from "./words.js";

const MOST_STEPS = 6;

export class Challenge extends Question {
  constructor(field) {
    super(field);
    this.wish = JSON.parse(field.dataset.wwChallenge);
    this.cases = [...field.querySelectorAll(".ww-case")];
    this.game = null;
    this.lay();
    const before = store.read(nameOf({ page: this.page, question: this.name }));
    if (before) setText(this.status, `Before: ${before.right ? "found" : "not found"}, ${looksWords(before.looks ?? 0)}, the fewest ${before.fewest ?? 0}.`);
  }

  lay() {
    const { groups, kinds } = this.wish;
    this.caseKey = `ww-case:${this.page}#${this.name}`;
    const caseId = nextId("ww-case");
    this.caseField = make("input", { type: "text", inputmode: "numeric", id: caseId, class: "ww-case-number", value: kept.read(this.caseKey) ?? "1" });
    this.start = button("Hide a trouble", () => this.begin(), "ww-primary");
    this.another = button("Another case", () => this.next());
    this.status = make("p", { class: "ww-challenge-status", role: "status" });
    this.problem = make("p", { class: "ww-problem", role: "alert", hidden: true });
    this.lookAt = select("Look inside", groups);
    this.lookButton = button("Look inside", () => this.look());
    this.looks = make("ol", { class: "ww-looks" });
    this.part = select("The part", [["", [["", "choose a part"]]], ...groups]);
    this.kind = select("What is wrong", [["", [["", "choose what is wrong"], ...kinds.map((kind) => [kind, kind])]]]);
    this.giveUp = button("Show me the answer", () => this.end({ right: false, gaveUp: true }));
    const sure = this.field.querySelector(".ww-sure");
    this.play = make(
      "div", { class: "ww-challenge-play", hidden: true },
      make("p", { class: "ww-challenge-row" }, this.lookAt.label, this.lookButton, button("Go to the panel", () => this.toPanel())),
      this.looks,
      make("p", { class: "ww-challenge-row" }, this.part.label, this.kind.label),
      sure, make("p", { class: "ww-challenge-row" }, this.check, this.giveUp),
    );
    this.setup = make("p", { class: "ww-challenge-row" }, make("label", { for: caseId }, "Case ", this.caseField), this.start, this.another);
    this.another.hidden = true;
    document.addEventListener("ww-challenge", ({ detail }) => detail !== this && this.game && this.leave());
    this.result.before(this.setup, this.status, this.problem, this.play);
    this.caseField.addEventListener("keydown", (event) => event.key === "Enter" && this.begin());
  }

  get panel() {
    return document.querySelector("wet-wing-panel");
  }

  // ---- hiding a trouble

  async begin() {
    const read = readCase(this.caseField.value);
    if (read.problem) return this.refuseStart(read.problem);
    const { panel } = this;
    if (!panel?.door?.ready) return this.refuseStart("The live simulation flies the hidden trouble, and it is not ready yet. Try again once the panel says Live.");
    const at = troubleOf(read.caseNumber, this.wish.cases.length);
    const hidden = revealed(this.wish.cases[at]);
    // A button that is disabled would lose the keyboard.
    if (this.flying) return undefined;
    this.flying = true;
    setText(this.status, "The flight with the hidden trouble is being flown.");
    const answer = await panel.door.ask({ ask: "fly", aircraft: panel.aircraftName, script: panel.scriptName, edits: hidden.edits });
    this.flying = false;
    if (answer.problem) return this.refuseStart(answer.problem);
    kept.write(this.caseKey, String(read.caseNumber));
    document.dispatchEvent(new CustomEvent("ww-challenge", { detail: this }));
    this.hide(panel, hidden, at, answer.answer.record);
    return undefined;
  }

  refuseStart(words) {
    setText(this.status, "");
    setProblem(this.problem, words);
  }

  hide(panel, hidden, at, record) {
    super.forget();
    setProblem(this.problem, null);
    const topPx = this.start.getBoundingClientRect().top;
    this.game = { hidden, at, looks: 0, flight: new RecordedFlight(record), before: panel.view?.name ?? "inside" };
    // The reader's own changes wait until the trouble is uncovered; a second trouble finds none of them.
    if (panel.dataset.challenge === undefined) panel.waiting = panel.edits.length ? panel.edits : null;
    panel.source.back();
    panel.setAttribute("data-challenge", "");
    // What nobody has told the reader is no change of theirs.
    const secret = new RecordedFlight({ ...record, edits: [] });
    panel.adopt({ base: secret, flight: secret, edits: [] });
    panel.view?.set("gauges");
    this.sayOnPanel(panel);
    panel.goTo(this.wish.start_s);
    for (const { control } of [this.part, this.kind]) control.value = "";
    this.looks.replaceChildren();
    this.play.hidden = false;
    this.another.hidden = true;
    setText(this.start, "Begin again");
    holdPlace(this.start, topPx);
    this.tell("A trouble is hidden. The panel shows the gauges alone, and its switches rest. Go through the flight, look where you must, then answer.");
  }

  /** At the panel: what it leaves out now, and the way back to the question. */
  sayOnPanel(panel) {
    const back = button("Back to the question", () => {
      this.field.scrollIntoView({ block: "start" });
      this.lookAt.control.focus({ preventScroll: true });
    });
    this.banner?.remove();
    this.banner = make("p", { class: "ww-challenge-banner" }, "A trouble is hidden. Go through the flight; look and answer at the question.", " ", back);
    panel.querySelector(".ww-top").after(this.banner);
  }

  next() {
    const now = readCase(this.caseField.value).caseNumber ?? 0;
    this.caseField.value = String((now % 999) + 1);
    this.begin();
  }

  toPanel() {
    goToFrame(this.panel, this.banner.querySelector("button"));
  }

  // ---- looking

  look() {
    const { game, panel } = this;
    const part = this.lookAt.control.value;
    game.looks += 1;
    const units = unitsNow();
    const seen = look(game.flight, part, panel.timeS);
    const since = seen.sinceS === null ? "since the flight began" : `since ${exactClock(seen.sinceS)}`;
    const figures = seen.figures.map(({ words, value, unit }) => `${words} ${amount(value, unit, units)}`);
    const why = seen.sentence === null ? "Nothing in the fuel has made it so." : sentenceCase(say(seen.sentence, units));
    const state = seen.state === "holding" ? [] : [`${sayState(seen.state, units)} ${since}`];
    const row = make(
      "li", {}, make("span", { class: "ww-at" }, `${exactClock(panel.timeS)} `), make("strong", {}, game.flight.label(part)),
      `: ${[...state, ...figures].join("; ")}. ${why}`,
    );
    this.looks.append(row);
    this.tell(`${sentenceCase(looksWords(game.looks))} so far.`);
  }

  tell(words) {
    setText(this.status, words);
  }

  // ---- answering

  judge() {
    const answer = { part: this.part.control.value, kind: this.kind.control.value };
    if (!answer.part) return this.refuse("Choose the part first.");
    if (!answer.kind) return this.refuse("Choose what is wrong with it.");
    if (this.sureness() === null) {
      this.refuse("Say how sure you are, then check.");
      this.sure[0].radio.focus();
      return undefined;
    }
    const judged = judgeAnswer(answer, this.game.hidden);
    if (judged.right) return this.end({ right: true, answer });
    this.game.looks += 1;
    setText(this.result, `Not so (${sureWords(this.sureness())}). ${judged.words}`);
    this.result.dataset.result = "wrong";
    this.keepGame(false, answer);
    return this.tell(`${sentenceCase(looksWords(this.game.looks))} so far.`);
  }

  /** Uncover the trouble: the panel shows it as a change of the flight, with the recorded flight behind it. */
  end({ right, answer = null, gaveUp = false }) {
    const { game, panel } = this;
    const { hidden } = game;
    if (right) this.keepGame(true, answer);
    else if (this.sureness() !== null) this.keepGame(false, { part: "", kind: "gave up" });
    panel.removeAttribute("data-challenge");
    this.banner.remove();
    panel.view?.set(game.before);
    panel.adopt({ base: panel.source.page, flight: game.flight, edits: hidden.edits });
    if (panel.waiting) {
      const { waiting } = panel;
      panel.noteWithUndo("Your own changes were set aside while the trouble was hidden.", () => panel.flyWhenReady(waiting, null));
    }
    const uncover = () => {
      this.play.hidden = true;
      this.another.hidden = false;
    };
    handOn([this.play], uncover, this.another);
    this.game = null;
    for (const own of this.cases) own.hidden = own !== this.cases[game.at];
    this.showChain(this.cases[game.at], game.flight);
    this.answer.hidden = false;
    this.answer.open = true;
    const took = `${sentenceCase(looksWords(game.looks))}; the fewest is ${hidden.fewest}.`;
    setText(this.result, gaveUp ? `Here it is. ${took}` : `Right (${sureWords(this.sureness())}). ${took}`);
    this.result.dataset.result = gaveUp ? "none" : "right";
    this.tell("The trouble is uncovered: the panel shows the flight with it, and the recorded flight behind.");
  }

  /** Why the part that the answer opens became what it is there: each step with the change behind it. */
  showChain(place, flight) {
    place.querySelector(".ww-case-chain")?.remove();
    const { wwTime, wwPart } = [...place.querySelectorAll(".ww-see")].at(-1).dataset;
    const steps = because(flight, wwPart, Number(wwTime) + 0.01, MOST_STEPS).map(({ change }) => {
      const words = `${flight.label(change.part)}: ${sayState(change.to, unitsNow())}. ${sentenceCase(say(change.reason.sentence, unitsNow()))}`;
      return make("li", {}, make("span", { class: "ww-at" }, exactClock(change.time_s)), ` ${words}`);
    });
    place.append(make("ol", { class: "ww-case-chain", "aria-label": "The chain of reasons" }, ...steps));
  }

  /** Another challenge of the page takes the panel. */
  leave() {
    this.game = null;
    this.banner.remove();
    this.play.hidden = true;
    this.tell("");
  }

  keepGame(right, answer) {
    const { page, name: question, kind } = this;
    const words = `case ${this.caseField.value.trim()}: ${[answer.part, answer.kind].filter(Boolean).join(", ")}`;
    const own = { page, question, kind, title: pageTitle(), ask: askOf(this.field), answer: words, right, sure: this.sureness() };
    const counted = { looks: this.game.looks, fewest: this.game.hidden.fewest };
    this.keepRecord(answered(store.read(nameOf({ page, question })), { ...own, ...counted, at: new Date().toISOString() }));
  }
}

function looksWords(count) {
  return count === 1 ? "1 look" : `${count} looks`;
}

function button(words, action, look = "") {
  const made = make("button", { type: "button", class: look }, words);
  made.addEventListener("click", action);
  return made;
}

/** A choice with its label; a group without a title stands by itself. */
function select(words, groups) {
  const control = make("select");
  for (const [title, options] of groups) {
    const made = options.map(([value, text]) => make("option", { value }, text));
    if (title) control.append(make("optgroup", { label: title }, ...made));
    else control.append(...made);
  }
  return { control, label: make("label", {}, `${words} `, control) };
}
