// Predict first: answer, say how sure you are, then see what the simulation says and the moment that shows it.

import { Challenge } from "./challenge.js";
import { Choose } from "./question_choose.js";
import { NumberQuestion } from "./question_number.js";
import { Order } from "./question_order.js";
import { Sketch } from "./question_sketch.js";

const KINDS = { choose: Choose, order: Order, sketch: Sketch, number: NumberQuestion, challenge: Challenge };

/** Bring every question of the page to life. */
export function startQuestions(root = document) {
  for (const field of root.querySelectorAll("fieldset.ww-predict:not([data-ready])")) {
    field.dataset.ready = "";
    new KINDS[field.dataset.wwKind](field);
  }
}
