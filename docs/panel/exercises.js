// The page of exercises: the recorded paper, and a form that asks the live simulation for another one, part by part.

import { kept, setProblem, setText } from "./dom.js";
import { keptUnits } from "./links.js";
import { paperRequest, questionOf, readWhole } from "./exercises_form.js";
import { chooseForm, chooseVolumes, formOf } from "./numbers.js";
import { startQuestions } from "./predict.js";
import { tellUnits } from "./question_units.js";
import { RuntimeDoor, stateWords } from "./runtime_door.js";
import { startRuntime } from "./runtime/client.js";
import { writeValues } from "./values.js";

/** Bring the exercises to life, where this page has them. */
export function startExercises(root = document) {
  const form = root.querySelector("form.ww-exercise-form:not([data-ready])");
  if (!form) return;
  form.dataset.ready = "";
  // No panel stands here to choose how figures are written: what the reader chose elsewhere holds.
  chooseForm(kept.read("ww-form") ?? formOf(navigator.language));
  chooseVolumes(kept.read("ww-volumes") ?? "L");
  new Exercises(form, root.querySelector(".ww-paper"));
}

class Exercises {
  constructor(form, paper) {
    Object.assign(this, { form, paper, asked: 0, wanted: null });
    const find = (selector) => form.querySelector(selector);
    [this.seed, this.count, this.aircraft, this.units] = ["seed", "count", "aircraft", "units"].map((name) => form.elements[name]);
    [this.problem, this.progress, this.state] = [".ww-problem", "progress", ".ww-exercise-state"].map(find);
    this.kinds = [...form.querySelectorAll("input[name=kinds]")];
    const settings = document.querySelector("script.ww-runtime");
    this.door = new RuntimeDoor(settings ? JSON.parse(settings.textContent) : null, startRuntime, (state) => this.heard(state));
    this.units.value = keptUnits.read();
    writeValues(this.units.value);
    this.units.addEventListener("change", () => this.setUnits());
    find(".ww-exercise-next").addEventListener("click", () => this.nextSeed());
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.submit();
    });
    form.hidden = false;
    if (this.door.state.name === "absent") {
      find("button[type=submit]").disabled = true;
      setText(this.state, "This copy of the site has no live simulation: the recorded paper is all it has.");
    }
    this.openNamed();
  }

  setUnits() {
    keptUnits.write(this.units.value);
    tellUnits(this.units.value);
    writeValues(this.units.value);
  }

  nextSeed() {
    const { value = -1 } = readWhole(this.seed.value, 0, Number(this.seed.dataset.most), "Seed");
    this.seed.value = String((value + 1) % (Number(this.seed.dataset.most) + 1));
    this.submit();
  }

  /** A link to one question, as the reader's results hold it, makes the paper that it stands in. */
  openNamed() {
    const name = window.location.hash.slice(1);
    const asked = questionOf(name);
    if (!asked || ![...this.aircraft.options].some(({ value }) => value === asked.aircraft)) return;
    if (document.getElementById(name) || this.door.state.name === "absent") return;
    [this.seed.value, this.aircraft.value, this.count.value] = [String(asked.seed), asked.aircraft, String(asked.number)];
    for (const box of this.kinds) box.checked = box.value === asked.kind;
    this.named = name;
    this.submit();
  }

  submit() {
    const read = paperRequest({
      seed: this.seed.value, mostSeed: Number(this.seed.dataset.most), count: this.count.value, mostCount: Number(this.count.dataset.most),
      aircraft: this.aircraft.value, kinds: this.kinds.filter((box) => box.checked).map((box) => box.value),
    });
    setProblem(this.problem, read.problem ?? null);
    for (const field of [this.seed, this.count]) field.setAttribute("aria-invalid", String(read.field === field.name));
    if (read.problem) {
      if (read.field) this.form.elements[read.field].focus?.();
      return;
    }
    this.wanted = read.request;
    this.door.start();
    if (this.door.ready) this.make();
    else setText(this.state, stateWords(this.door.state, "The paper is made as soon as the simulation runs").text);
  }

  heard(state) {
    if (state.name === "ready") {
      if (this.wanted) this.make();
    } else if (this.wanted) {
      const said = stateWords(state, state.name === "failed" ? "The recorded paper stays" : "The paper is made as soon as the simulation runs");
      setText(this.state, said.text);
    }
  }

  /** Ask for the parts one after another; a later paper drops this one. */
  async make() {
    const request = this.wanted;
    this.wanted = null;
    this.asked += 1;
    const own = this.asked;
    const [html, short] = [[], []];
    this.progress.hidden = false;
    this.progress.value = 0;
    for (let part = 0, parts = 1; part < parts; part += 1) {
      setText(this.state, `Flying, and asking: ${html.length} of ${request.count} questions.`);
      const asked = await this.door.ask({ ...request, part });
      if (own !== this.asked) return;
      if (asked.problem) return this.end(asked.problem);
      parts = asked.answer.parts;
      html.push(...asked.answer.html);
      short.push(...asked.answer.paper.left_out);
      this.progress.value = (part + 1) / parts;
    }
    this.show(html, request);
    this.end(null, html.length, short);
  }

  show(html, { seed, aircraft }) {
    // The simulation wrote this markup, with every text in it escaped.
    this.paper.innerHTML = html.join("");
    [this.paper.dataset.seed, this.paper.dataset.aircraft] = [String(seed), aircraft];
    startQuestions(this.paper);
    this.setUnits();
    const own = this.named && document.getElementById(this.named);
    this.named = null;
    own?.scrollIntoView({ block: "start" });
  }

  end(problem, count = 0, short = []) {
    this.progress.hidden = true;
    setProblem(this.problem, problem);
    const words = short.map((kind) => this.kinds.find((box) => box.value === kind).labels[0].textContent.trim());
    const less = words.length ? ` Fewer than asked, because this aircraft gives no more clear ones: ${words.join(", ")}.` : "";
    setText(this.state, problem ? "" : `${count} questions made.${less}`);
  }
}
