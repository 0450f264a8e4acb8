// The painter: fills in hooks, attributes that say what an element shows. `wetwing/draw/hooks.py` documents them and paints
// the same for a still picture. Nothing is written to the page unless it changed.

import { number } from "./bars.js";
import { figure, rateWords, unitWord } from "./figures.js";
import { sayState } from "./words.js";

const NOTHING_KG_H = 1;
const WORTH_KG = 10;
const SELECTOR =
  "[data-value],[data-unit-word],[data-rate],[data-state],[data-now-of],[data-flow],[data-fill],[data-when],[data-unless],[data-was],[data-density]";

/**
 * Compile every hook under `root` to a list of small functions `(moment, units, was) => void`; `was` is the same time of the
 * earlier flight, or null.
 */
export function compileHooks(root) {
  const hooks = [];
  for (const element of root.querySelectorAll(SELECTOR)) hooks.push(...hooksOf(element));
  return hooks;
}

function hooksOf(element) {
  const given = element.dataset;
  const hooks = [];
  const text = setter((value) => (element.textContent = value), element.textContent);
  if (given.value !== undefined) {
    const names = given.value.split(" + ");
    hooks.push((moment, units) => text(figure(total(names, moment), given.unit, units)));
  } else if (given.unitWord !== undefined) {
    hooks.push((_moment, units) => text(`\u00a0${unitWord(given.unitWord, units)}`));
  } else if (given.rate !== undefined) {
    hooks.push((moment, units) => text(rateWords(moment.quantity(given.rate), units)));
  } else if (given.state !== undefined) {
    hooks.push((moment, units) => text(sayState(moment.state(given.state), units)));
  } else if (given.density !== undefined) {
    hooks.push((moment) => text(figure(densityKgL(given.density, moment), "kg/L")));
  }
  if (given.nowOf !== undefined) {
    const now = attribute(element, "data-now");
    hooks.push((moment) => now(moment.state(given.nowOf)));
  }
  if (given.flow !== undefined) hooks.push(flowHook(element, given));
  if (given.fill !== undefined) hooks.push(fillHook(element, given));
  if (given.was !== undefined) hooks.push(given.wasFill === undefined ? wasHook(text, given) : wasFillHook(element, given));
  const condition = given.when ?? given.unless;
  if (condition !== undefined) {
    const tests = condition.split(" & ").map(compileTest);
    const shown = visibility(element);
    const wanted = given.when !== undefined;
    hooks.push((moment) => shown(tests.every((test) => test(moment)) === wanted));
  }
  return hooks;
}

/** One test of a `data-when`: `part=state|state`, `part!=state`, `quantity>number`, `quantity<number`, `part~word`. */
export function compileTest(test) {
  const found = /^([^!=<>~]+)(!=|=|<|>|~)(.+)$/.exec(test);
  if (!found) throw new Error(`data-when: '${test}' is no test`);
  const [, name, sign, value] = found;
  if (sign === "=") {
    const states = value.split("|");
    return (moment) => states.includes(stateOf(name, moment));
  }
  if (sign === "!=") return (moment) => stateOf(name, moment) !== value;
  if (sign === "~") return (moment) => moment.troubles(name).some((kind) => kind.startsWith(value));
  const names = name.split(" + ");
  const bound = Number(value);
  return sign === "<" ? (moment) => total(names, moment) < bound : (moment) => total(names, moment) > bound;
}

/** `part`, `part:set` (what a person set it to) or `valve:shown` (what its indication says). */
function stateOf(name, moment) {
  const [part, asked] = name.split(":");
  if (asked === "set") return moment.setting(part);
  return asked === "shown" ? moment.shown(part) : moment.state(part);
}

/** What a litre of a tank's fuel weighs; NaN where it is empty, or not shown. */
export function densityKgL(tank, moment) {
  const volumeL = moment.quantity(`${tank}.volume_l`);
  return volumeL > 0 ? moment.quantity(`${tank}.actual_kg`) / volumeL : Number.NaN;
}

/** How far a tank is wetted: see `wetted` of `wetwing/draw/hooks.py`. */
export function wetted(shape, start, length, fill) {
  const share = Number.isNaN(fill) ? 0 : Math.min(Math.max(fill, 0), 1);
  const extent = Math.abs(length) * (shape === "wedge" ? Math.sqrt(share) : share);
  return { first: length > 0 ? start : start - extent, extent };
}

function flowHook(element, given) {
  const names = given.flow.split(" + ");
  const [scale, least, most] = [Number(given.pxPerKgH), Number(given.leastPx), Number(given.mostPx ?? Infinity)];
  const [shown, width, back] = [visibility(element), attribute(element, "stroke-width"), attribute(element, "data-back")];
  return (moment) => {
    const flow = total(names, moment);
    const flows = Math.abs(flow) >= NOTHING_KG_H;
    shown(flows);
    if (flows) width(number(Math.min(Math.max(Math.abs(flow) * scale, least), most)));
    back(flow <= -NOTHING_KG_H ? "" : null);
  };
}

function fillHook(element, given) {
  const names = given.shape === "wedge" ? ["x", "width"] : ["y", "height"];
  const [first, extent] = names.map((name) => attribute(element, name));
  const [start, length] = [Number(given.from), Number(given.length)];
  return (moment) => {
    const wet = wetted(given.shape, start, length, moment.quantity(given.fill));
    first(number(wet.first));
    extent(number(wet.extent));
  };
}

/** Whether a mass was another in the earlier flight. */
function differs(name, moment, was) {
  return was !== null && Math.abs(was.quantity(name) - moment.quantity(name)) > WORTH_KG;
}

function wasHook(text, given) {
  return (moment, units, was) => text(differs(given.was, moment, was) ? `\u00a0was\u00a0${figure(was.quantity(given.was), "kg", units)}` : "");
}

function wasFillHook(element, given) {
  const shown = visibility(element);
  const fill = fillHook(element, { ...given, fill: given.wasFill });
  return (moment, _units, was) => {
    const other = differs(given.was, moment, was);
    shown(other);
    if (other) fill(was);
  };
}

function total(names, moment) {
  let sum = 0;
  for (const name of names) sum += name.startsWith("-") ? -moment.quantity(name.slice(1)) : moment.quantity(name);
  return sum;
}

function attribute(element, name) {
  return setter(
    (value) => (value === null ? element.removeAttribute(name) : element.setAttribute(name, value)),
    element.getAttribute(name),
  );
}

/** Show or hide: by the attribute that pictures have, or the one that HTML has. */
function visibility(element) {
  if (element.namespaceURI === "http://www.w3.org/1999/xhtml") {
    return setter((shown) => (element.hidden = !shown), !element.hidden);
  }
  return setter(
    (shown) => (shown ? element.removeAttribute("display") : element.setAttribute("display", "none")),
    !element.hasAttribute("display"),
  );
}

function setter(write, first) {
  let last = first;
  return (value) => {
    if (value === last) return;
    last = value;
    write(value);
  };
}
