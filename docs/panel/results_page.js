// The page of the reader's results: what to look at again first, then every question by page; taken out, taken in, cleared.

import { byPage, calibration, KINDS, mergedLists, sureWords, worthAnotherLook } from "./answers.js";
import { fromJson, toCsv, toJson } from "./answers_file.js";
import { onOtherTabs, PLACES } from "./answers_store.js";
import { make, setProblem, setText } from "./dom.js";
import { store } from "./question.js";

const MOST_BYTES = 4_000_000;
const WHEN = { dateStyle: "medium", timeStyle: "short" };

/** Bring the page of results to life, where this is it. */
export function startResults(root = document) {
  const place = root.querySelector(".ww-results:not([data-ready])");
  if (!place) return;
  place.dataset.ready = "";
  new Results(place);
}

class Results {
  constructor(place) {
    this.place = place;
    this.cleared = null;
    this.lists = make("div", { class: "ww-results-lists" });
    this.status = make("p", { class: "ww-results-status", role: "status" });
    this.problem = make("p", { class: "ww-problem", role: "alert", hidden: true });
    place.replaceChildren(this.tools(), this.status, this.problem, this.lists);
    onOtherTabs(() => this.show());
    this.show();
  }

  // ---- what there is to do

  tools() {
    const button = (words, action) => {
      const made = make("button", { type: "button" }, words);
      made.addEventListener("click", () => action(made));
      return made;
    };
    this.file = make("input", { type: "file", accept: ".json,application/json", class: "ww-hidden", tabindex: "-1", "aria-hidden": "true" });
    this.file.addEventListener("change", () => this.takeIn());
    this.asking = make("span", { class: "ww-results-asking", hidden: true });
    this.undo = button("Bring them back", () => this.bringBack());
    this.undo.hidden = true;
    this.savers = [
      button("Save as JSON", () => this.save("json", toJson, "application/json")),
      button("Save as CSV", () => this.save("csv", toCsv, "text/csv")),
    ];
    this.clear = button("Clear…", () => this.askFirst());
    return make(
      "div", { class: "ww-results-tools" }, ...this.savers, button("Take in a file…", () => this.file.click()), this.file,
      this.clear, this.asking, this.undo,
    );
  }

  save(ending, write, type) {
    const day = new Date().toISOString().slice(0, 10);
    const address = URL.createObjectURL(new Blob([write(store.all())], { type: `${type};charset=utf-8` }));
    const link = make("a", { href: address, download: `wet-wing-results-${day}.${ending}` });
    link.click();
    window.setTimeout(() => URL.revokeObjectURL(address), 10_000);
    this.say(`Saved as ${link.download}.`);
  }

  async takeIn() {
    const [file] = this.file.files;
    this.file.value = "";
    if (!file) return;
    if (file.size > MOST_BYTES) {
      this.refuse(`'${file.name}' has ${Math.ceil(file.size / 1e6)} MB; a file of results has at most ${MOST_BYTES / 1e6} MB.`);
      return;
    }
    const read = fromJson(await file.text());
    if (read.problem) {
      this.refuse(`'${file.name}' was not taken in. ${read.problem}`);
      return;
    }
    const place = store.putIn(read.records);
    const left = read.left ? ` ${read.left} entries are no results and were left out.` : "";
    this.say(`${counted(read.records.length)} taken in from '${file.name}'.${left} ${PLACES[place] ?? ""}`.trim());
    this.show();
  }

  /** Ask before anything goes. */
  askFirst() {
    const count = store.all().length;
    const go = make("button", { type: "button" }, "Clear them");
    const stay = make("button", { type: "button" }, "Keep them");
    go.addEventListener("click", () => this.clearAll());
    stay.addEventListener("click", () => this.answered());
    this.asking.replaceChildren(`Clear ${counted(count)} from this device?`, go, stay);
    this.asking.hidden = false;
    this.clear.hidden = true;
    stay.focus();
  }

  answered() {
    this.asking.hidden = true;
    this.clear.hidden = false;
    this.clear.focus();
  }

  clearAll() {
    this.cleared = store.all();
    store.clear();
    this.answered();
    this.undo.hidden = false;
    this.say(`${counted(this.cleared.length)} cleared. Until you leave this page you can bring them back.`);
    this.show();
    this.undo.focus();
  }

  bringBack() {
    store.putIn(this.cleared);
    this.say(`${counted(this.cleared.length)} brought back.`);
    this.cleared = null;
    this.undo.hidden = true;
    this.show();
    this.clear.focus();
  }

  say(words) {
    setProblem(this.problem, null);
    setText(this.status, words);
  }

  refuse(words) {
    setText(this.status, "");
    setProblem(this.problem, words);
  }

  // ---- what there is to see

  show() {
    const records = mergedLists(store.all());
    for (const button of [...this.savers, this.clear]) button.disabled = records.length === 0;
    if (records.length === 0) {
      this.lists.replaceChildren(make("p", {}, "No question has been answered on this device yet. Each page of the phases begins with some."));
      return;
    }
    this.lists.replaceChildren(...this.sums(records), ...this.again(records), ...byPage(records).flatMap((page) => this.page(page)));
  }

  sums(records) {
    const right = records.filter((record) => record.right).length;
    const rows = calibration(records).filter(({ count }) => count > 0).map(({ words, count, right: sound }) =>
      make("li", {}, `First answers that were ${words}: ${sound} of ${count} right.`));
    return [make("p", { class: "ww-results-sum" }, `${counted(records.length)}, ${right} right at the last try.`), make("ul", {}, ...rows)];
  }

  again(records) {
    const found = worthAnotherLook(records);
    if (found.length === 0) return [];
    const rows = found.map((record) => make("li", {}, this.link(record), ` ${record.title}: ${this.verdict(record)}.`));
    return [make("h2", { id: "look-again" }, "Look at these again"), make("p", {}, "Wrong and sure comes first: that is where a picture in the mind differs from the aircraft."), make("ol", {}, ...rows)];
  }

  page({ title, records }) {
    const head = make("tr", {}, ...["Question", "Last answer", "First answer", "Tries", "When"].map((words) => make("th", { scope: "col" }, words)));
    const rows = records.map((record) => {
      const extra = record.looks === undefined ? "" : `, ${record.looks} looks (fewest ${record.fewest})`;
      const cells = [
        `${this.verdict(record)}${extra}`, this.verdict(record.first), String(record.tries), new Date(record.at).toLocaleString(undefined, WHEN),
      ];
      const kind = make("span", { class: "ww-results-kind" }, KINDS[record.kind]);
      return make("tr", {}, make("th", { scope: "row" }, this.link(record), " ", kind), ...cells.map((words) => make("td", {}, words)));
    });
    const table = make("table", {}, make("thead", {}, head), make("tbody", {}, ...rows));
    return [make("h2", {}, title), make("div", { class: "ww-results-scroll", tabindex: "0", role: "region", "aria-label": title }, table)];
  }

  link({ page, question, ask }) {
    return make("a", { href: `${page}#${question}` }, ask || question);
  }

  verdict({ right, sure }) {
    return `${right ? "✓ right" : "✗ wrong"}, ${sureWords(sure)}`;
  }
}

function counted(count) {
  return count === 1 ? "1 question" : `${count} questions`;
}
