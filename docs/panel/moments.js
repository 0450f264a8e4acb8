// Moments elsewhere in the page: anything with `data-ww-time` moves the page's panel.

import { parseMomentEdits } from "./edits.js";
import { make, reducedMotion } from "./dom.js";
import { goToFrame } from "./keyboard_place.js";
import { replay } from "./replay.js";

/** Listen on the whole page for moments of `panel`. */
export function listenForMoments(panel) {
  document.addEventListener("click", (event) => {
    const found = event.target instanceof Element ? event.target.closest("[data-ww-time]") : null;
    // Of two panels side by side each has its own moments; the left one has those of the page.
    if (found && panel.dataset.twin && (found.dataset.wwSide ?? "left") !== panel.dataset.twin) return;
    if (!found || !panel.isConnected || event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    openMoment(panel, found);
  });
}

function openMoment(panel, source) {
  const { wwTime, wwPart, wwEdit } = source.dataset;
  panel.pause();
  const opened = panel.openMoment({ timeS: Number(wwTime), part: wwPart ?? null, edits: parseMomentEdits(wwEdit) });
  if (source.dataset.wwReplay !== undefined) opened.then(() => replay(panel, Number(wwTime)));
  if (inView(panel)) return;
  goToFrame(panel, offerReturn(panel, source), reducedMotion() ? "auto" : "smooth");
}

function inView(panel) {
  const box = panel.querySelector(".ww-drawing").getBoundingClientRect();
  const seen = Math.min(box.bottom, window.innerHeight) - Math.max(box.top, 0);
  return seen > Math.min(box.height, window.innerHeight) * 0.6;
}

/** A button that leads back to where the reader was. */
function offerReturn(panel, source) {
  const top = panel.querySelector(".ww-top");
  top.querySelector(".ww-return")?.remove();
  const button = make("button", { type: "button", class: "ww-return" }, "Back to the text");
  button.addEventListener("click", () => {
    button.remove();
    source.scrollIntoView({ behavior: reducedMotion() ? "auto" : "smooth", block: "center" });
    source.focus({ preventScroll: true });
  });
  top.append(button);
  return button;
}
