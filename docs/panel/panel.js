// The entry of the page's script: registers the panel and brings the questions to life.

import { WetWingPanel } from "./element.js";
import { startExercises } from "./exercises.js";
import { startLevels } from "./levels.js";
import { startQuestions } from "./predict.js";
import { startResults } from "./results_page.js";

function start() {
  if (!customElements.get("wet-wing-panel")) customElements.define("wet-wing-panel", WetWingPanel);
  startQuestions();
  startLevels();
  startExercises();
  startResults();
}

// A panel reads what stands inside it, so the page has to be there first.
if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
else start();
