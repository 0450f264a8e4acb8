// How figures are written: the unit of volumes and the form of numbers, for the whole page, kept on this device.

import { kept } from "./dom.js";
import { chosenForm, chosenVolumes, chooseForm, chooseVolumes, formOf } from "./numbers.js";

const CHANGED = "ww-writing";

export class Writing {
  constructor(panel) {
    this.panel = panel;
    this.form = panel.querySelector("select.ww-form");
    this.volumes = panel.querySelector("select.ww-volumes");
    if (!this.form) return;
    chooseForm(kept.read("ww-form") ?? formOf(navigator.language));
    chooseVolumes(kept.read("ww-volumes") ?? "L");
    this.form.addEventListener("change", () => this.choose("ww-form", chooseForm, this.form.value));
    this.volumes.addEventListener("change", () => this.choose("ww-volumes", chooseVolumes, this.volumes.value));
    // A page may hold two panels: what one of them chooses, both write.
    document.addEventListener(CHANGED, () => this.writeAgain());
    this.show();
  }

  choose(key, set, value) {
    kept.write(key, value);
    set(value);
    document.dispatchEvent(new CustomEvent(CHANGED));
  }

  show() {
    this.form.value = chosenForm();
    this.volumes.value = chosenVolumes();
  }

  writeAgain() {
    this.show();
    // Whatever was written by a key of flight and units is written anew.
    this.panel.writtenAnew();
  }
}
