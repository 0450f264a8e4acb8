// The pieces of a panel beyond its core. Each is a class: `new Piece(panel, facts)`, then `update(shown)` at each painting,
// with shown = { flight, earlier, timeS, part, units, moment, view }; `moment` is as the view sees it. A piece finds its markup in the panel, and rests where it has none.

import { Bench } from "./bench.js";
import { ClassView } from "./class_view.js";
import { Handout } from "./handout.js";
import { QrCard } from "./qr_card.js";
import { Save } from "./save.js";
import { LookingAhead } from "./ahead.js";
import { KeptFlights } from "./kept_card.js";
import { Lane } from "./lane.js";
import { NextChanges } from "./next_changes.js";
import { QuestionUnits } from "./question_units.js";
import { Traces } from "./traces.js";
import { Twin } from "./twin.js";
import { Worksheets } from "./worksheet.js";
import { Zoom } from "./zoom.js";

export const PIECES = [ClassView, Handout, QrCard, Save, Traces, LookingAhead, Bench, Twin, Lane, NextChanges, KeptFlights, QuestionUnits, Worksheets, Zoom];
