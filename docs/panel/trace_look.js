// How lines of a trace are told apart: by dashes and names first, by colour as well. Colours come from the style sheet.

import { family } from "./trace_lines.js";

const COLOURS = 6;
// The first line of a family is drawn wide and dashed, the others fine: where they run together, both are seen.
const DASHES = [[10, 5], [4, 3.5], [14, 4, 3, 4], [2, 3], [18, 6], [7, 3, 2, 3, 2, 3]];
const READ_DASH = [1.5, 2.5];
const WIDE = 2.4;
const FINE = 1.5;

/** The look of each line: { colour, dash, width }. `colour` is the number of a family's colour. */
export function looksOf(lines) {
  const families = [...new Set(lines.filter(({ style }) => style !== "read").map(({ name }) => family(name)))];
  const sizes = new Map();
  const last = new Map();
  for (const line of lines) if (line.style !== "read") sizes.set(family(line.name), (sizes.get(family(line.name)) ?? 0) + 1);
  let alone = 0;
  return lines.map((line) => {
    const own = family(line.name);
    if (line.style === "read") {
      const known = families.indexOf(own);
      alone += 1;
      return { colour: (known < 0 ? families.length + alone - 1 : known) % COLOURS, dash: READ_DASH, width: FINE };
    }
    const at = families.indexOf(own);
    const ordinal = last.get(own) ?? 0;
    last.set(own, ordinal + 1);
    const single = sizes.get(own) === 1;
    const dash = single ? (at < 1 ? [] : DASHES[at % DASHES.length]) : ordinal === 0 ? DASHES[at % DASHES.length] : ordinal === 1 ? [] : DASHES[(at + ordinal) % DASHES.length];
    return { colour: at % COLOURS, dash, width: dash.length ? WIDE : FINE };
  });
}

/** The colours that the style sheet gives now. */
export function coloursOf(root) {
  const probe = document.createElement("span");
  probe.className = "ww-trace-probe";
  root.append(probe);
  const read = (name) => {
    probe.style.color = `var(--ww-${name})`;
    return getComputedStyle(probe).color;
  };
  const found = {
    lines: Array.from({ length: COLOURS }, (_none, index) => read(`trace-${index + 1}`)),
    grid: read("hair"),
    phase: read("edge"),
    words: read("quiet"),
    level: read("ink"),
    // Where there are no pale colours, the earlier flight is a row of dots.
    earlier: window.matchMedia("(forced-colors: active)").matches
      ? { colour: read("trace-earlier"), width: 2, dash: [2, 7] }
      : { colour: read("trace-earlier"), width: 3.5, dash: [] },
    font: `12px ${getComputedStyle(root).fontFamily}`,
  };
  probe.remove();
  return found;
}

/** Call `changed` when the page's colours may have become others. */
export function watchColours(changed) {
  const watcher = new MutationObserver(changed);
  for (const element of [document.documentElement, document.body]) {
    watcher.observe(element, { attributes: true, attributeFilter: ["data-md-color-scheme", "class"] });
  }
  for (const query of ["(prefers-color-scheme: dark)", "(forced-colors: active)"]) {
    window.matchMedia(query).addEventListener("change", changed);
  }
}
