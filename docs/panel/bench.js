// The bench's card: which script is flown, its figures, and scripts as files, opened, dropped and saved.

import { make, nextId, setProblem, setText } from "./dom.js";
import { InputsForm } from "./bench_inputs.js";
import { DropPlace } from "./drop_place.js";
import { handOn } from "./keyboard_place.js";
import { changedTitle, ended, fileName, refusal, sizeProblem, textOf } from "./script_file.js";

export class Bench {
  constructor(panel) {
    this.panel = panel;
    this.card = panel.querySelector(".ww-bench");
    if (!this.card) return;
    this.facts = JSON.parse(panel.querySelector("script.ww-bench-facts").textContent);
    this.shipped = this.facts.script.title;
    this.build();
    this.form.lay(this.facts.inputs, panel.units);
    new DropPlace(panel, (files) => this.dropped(files));
  }

  build() {
    const titleId = nextId("ww-bench");
    this.source = make("p", { class: "ww-bench-source" });
    this.back = make("button", { type: "button", hidden: true }, "Back to the page's flight");
    this.back.addEventListener("click", () => this.goBack());
    this.swap = make("button", { type: "button", hidden: true }, "Show the flight before");
    this.swap.addEventListener("click", () => this.panel.source.swap());
    this.file = make("input", { type: "file", accept: ".toml,text/plain,application/toml", class: "ww-open" });
    this.file.addEventListener("change", () => this.picked());
    this.title = make("input", { type: "text", class: "ww-save-title", maxlength: 80, autocomplete: "off" });
    this.title.addEventListener("input", () => (this.typed = true));
    this.save = make("button", { type: "button", class: "ww-save" }, "Save this flight as a script");
    this.save.addEventListener("click", () => this.write());
    this.problem = make("p", { class: "ww-problem ww-file-problem", role: "alert", hidden: true });
    this.saved = make("p", { class: "ww-saved", role: "status" });
    this.form = new InputsForm(this.panel, (inputs) => this.flyInputs(inputs));
    this.card.removeAttribute("aria-label");
    this.card.setAttribute("aria-labelledby", titleId);
    this.card.replaceChildren(
      make("p", { class: "ww-card-title", id: titleId }, "The script of this flight"),
      this.source,
      make("p", { class: "ww-bench-row" }, this.back, this.swap),
      make(
        "div", { class: "ww-bench-files" },
        make("label", {}, make("span", {}, "Open a script"), this.file, make("span", { class: "ww-drop-hint" }, "Or drop its file anywhere on the panel.")),
        make("label", {}, make("span", {}, "Title of what is saved"), this.title),
        this.save,
      ),
      this.problem,
      this.saved,
      make("p", { class: "ww-bench-head" }, "Loads, fuel, air and way"),
      this.form.form,
    );
  }

  // ---- files

  picked() {
    const files = [...this.file.files];
    this.opened(files).finally(() => (this.file.value = ""));
  }

  dropped(files) {
    this.panel.announce("A file was dropped.");
    this.opened(files);
  }

  async opened(files) {
    this.refuse(null);
    if (files.length !== 1) {
      if (files.length) this.refuse({ text: `${files.length} files were dropped; one script at a time can be opened.` });
      return;
    }
    const [file] = files;
    const read = sizeProblem(file) ? { problem: sizeProblem(file) } : await this.read(file);
    if (read.problem) this.refuse({ text: read.problem });
    else await this.open(file.name, read.text);
  }

  async read(file) {
    try {
      return textOf(file.name, await file.arrayBuffer());
    } catch {
      // A folder, or a file that is gone.
      return { problem: `'${file.name}' can't be read. Is it a folder, or was it moved?` };
    }
  }

  async open(name, text) {
    const { panel } = this;
    const own = { text, file: name, inputs: {}, title: name };
    const asked = await panel.door.ask({ ask: "inputs", aircraft: panel.aircraftName, ...panel.source.request(own) });
    if (asked.problem) {
      this.refuse(refusal(name, asked, this.facts.benches));
      return;
    }
    own.title = asked.answer.script.title;
    own.fields = asked.answer.inputs;
    const found = await panel.source.use(own, []);
    if (found) this.refuse(refusal(name, found, this.facts.benches));
    else panel.announce(`Opened ${own.title}, from ${name}.`);
  }

  /** Say what is wrong with a file, and where to go with it; null takes it away. */
  refuse(found) {
    setText(this.saved, "");
    setProblem(this.problem, found ? `${ended(found.text)} ${found.link ? "" : "The last good flight stays on show."}` : null);
    if (!found) return;
    if (found.link) this.problem.append(make("a", { href: found.link.page }, found.link.words), ", and open it there.");
    this.card.scrollIntoView({ block: "nearest" });
  }

  async write() {
    const { panel } = this;
    this.refuse(null);
    const request = { ask: "write", aircraft: panel.aircraftName, ...panel.source.request(), edits: panel.edits, title: this.title.value };
    const asked = await panel.door.ask(request);
    if (asked.problem) {
      this.refuse({ text: asked.problem });
      return;
    }
    const name = fileName(asked.answer.name);
    const address = URL.createObjectURL(new Blob([asked.answer.script_text], { type: "application/toml" }));
    make("a", { href: address, download: name }).click();
    window.setTimeout(() => URL.revokeObjectURL(address), 10_000);
    setText(this.saved, `Saved as ${name}, with ${panel.edits.length === 1 ? "one change" : `${panel.edits.length} changes`} of yours in it.`);
  }

  // ---- figures

  flyInputs(inputs) {
    const { panel } = this;
    const { own } = panel.source;
    if (!own && Object.keys(inputs).length === 0) return null;
    const script = { text: own?.text ?? null, file: own?.file ?? "", title: own?.title ?? this.shipped, fields: own?.fields };
    return panel.source.use({ ...script, inputs });
  }

  goBack() {
    this.panel.source.back();
    this.panel.announce("Back to the page's flight.");
  }

  // ---- showing

  update({ units }) {
    if (!this.card) return;
    const { source, edits, changeForm } = this.panel;
    if (!this.asked) {
      this.asked = true;
      changeForm?.open?.();
    }
    this.form.setUnits(units);
    const { own } = source;
    if (own !== this.shown) this.show(own);
    const count = Object.keys(own?.inputs ?? {}).length;
    const figures = count ? `, with ${count === 1 ? "one figure" : `${count} figures`} changed` : "";
    const from = own?.text ? `, from ${own.file}` : "";
    const title = own?.title ?? this.shipped;
    setText(this.source, `${title}${from}${figures || (own ? "" : ", as it ships")}.`);
    const offer = () => {
      this.back.hidden = !own;
      this.swap.hidden = !source.before;
    };
    handOn([this.back, this.swap], offer, this.swap, this.file);
    const wanted = own || edits.length ? changedTitle(title) : title;
    if (!this.typed && this.title.value !== wanted) this.title.value = wanted;
    this.save.disabled = !this.panel.door.ready;
  }

  /** Another script is flown: its figures stand in the form. */
  show(own) {
    const fields = own?.fields ?? this.facts.inputs;
    const same = fields === this.laid;
    this.shown = own;
    if (!same && this.laid !== undefined) this.form.lay(fields, this.panel.units);
    this.laid = fields;
    this.form.fill(own?.inputs ?? {});
  }
}
