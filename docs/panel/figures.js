// Figures as people read them: rounded, grouped, in the reader's units. `wetwing/draw/figures.py` says the same.

export const KG_PER_LB = 0.45359237;
const COARSE_FROM = 100;
const STEADY_KG_H = 5;

/** Write a value without its unit; `unit` is the unit that the value has. */
export function figure(value, unit, units = "kg") {
  if (unit === "kg" || unit === "kg/h") return coarse(units === "lb" ? value / KG_PER_LB : value);
  if (unit === "L") return coarse(value);
  if (unit === "bar" || unit === "Mach") return signed(value, 2);
  if (unit === "share") return signed(value * 100, 0);
  return signed(value, 0);
}

/** Write a mass to the unit, for sums that a reader adds up. */
export function exactMass(valueKg, units = "kg") {
  return signed(units === "lb" ? valueKg / KG_PER_LB : valueKg, 0);
}

/** The unit's sign in the reader's units. */
export function unitWord(unit, units = "kg") {
  if (unit === "share") return "%";
  return units === "lb" && (unit === "kg" || unit === "kg/h") ? unit.replace("kg", "lb") : unit;
}

/** How a quantity changes: `rising 520 kg/h`, `falling 1,450 kg/h` or `steady`. */
export function rateWords(rateKgH, units = "kg") {
  if (Math.abs(rateKgH) < STEADY_KG_H) return "steady";
  const way = rateKgH > 0 ? "rising" : "falling";
  return `${way} ${figure(Math.abs(rateKgH), "kg/h", units)} ${unitWord("kg/h", units)}`;
}

/** How high the aircraft is: `on the ground`, `3,000 ft`, `FL 350`. */
export function where(altitudeFt) {
  if (altitudeFt < 50) return "on the ground";
  const hundreds = Math.floor(altitudeFt / 100 + 0.5);
  return altitudeFt < 6000 ? `${signed(hundreds * 100, 0)} ft` : `FL ${hundreds}`;
}

/** Write a number that carries its own step, as a checked statement on a page does. */
export function stepped(amount, step) {
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  return signed(Math.floor(amount / step + 0.5) * step, decimals);
}

function coarse(value) {
  const step = Math.abs(value) < COARSE_FROM ? 1 : 10;
  return signed(Math.floor(value / step + 0.5) * step, 0);
}

function signed(value, decimals) {
  const scale = 10 ** decimals;
  const rounded = Math.floor(value * scale + 0.5) / scale;
  const [whole, part] = Math.abs(rounded).toFixed(decimals).split(".");
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, ",");
  return `${rounded < 0 ? "−" : ""}${grouped}${part === undefined ? "" : `.${part}`}`;
}
