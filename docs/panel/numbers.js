// How this page writes numbers, and reads those that somebody types: one choice for the whole page.

/** The forms on offer, by their own sample: the mark between thousands, and the decimal mark. */
export const FORMS = {
  "1,234.5": { group: ",", point: "." },
  "1 234,5": { group: "\u202f", point: "," },
  "1.234,5": { group: ".", point: "," },
};
export const VOLUMES = ["L", "US gal"];
export const L_PER_US_GAL = 3.785411784;

const GROUPED = /^-?[1-9]\d{0,2}([.,]\d{3})+$/;
const settings = { form: "1,234.5", volumes: "L" };

/** What is chosen now. */
export function chosenForm() {
  return settings.form;
}

export function chosenVolumes() {
  return settings.volumes;
}

export function chooseForm(form) {
  if (form in FORMS) settings.form = form;
}

export function chooseVolumes(volumes) {
  if (VOLUMES.includes(volumes)) settings.volumes = volumes;
}

/** The form of a language that a browser names, such as `de-AT`; the first where the language's own is not on offer. */
export function formOf(language) {
  let parts;
  try {
    parts = new Intl.NumberFormat(language).formatToParts(1234567.5);
  } catch {
    return "1,234.5";
  }
  const sign = (type) => parts.find((part) => part.type === type)?.value;
  if (sign("decimal") !== ",") return "1,234.5";
  return sign("group") === "." ? "1.234,5" : "1 234,5";
}

/** Write a number with so many decimals, half rounded up, its thousands parted. */
export function written(value, decimals) {
  const scale = 10 ** decimals;
  const rounded = Math.floor(value * scale + 0.5) / scale;
  const [whole, part] = Math.abs(rounded).toFixed(decimals).split(".");
  return `${rounded < 0 ? "−" : ""}${joined(whole, part)}`;
}

/** Write digits that are known already: the whole part, and the decimals or undefined. */
export function joined(whole, decimals) {
  const { group, point } = FORMS[settings.form];
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, group);
  return decimals === undefined ? grouped : `${grouped}${point}${decimals}`;
}

/**
 * Read a typed number: as the page writes it, or plain, with a comma or a point for the decimals.
 * @returns {{value: number} | {problem: string}}
 */
export function readNumber(text) {
  const typed = text.trim().replace(/^[−–]/, "-").replace(/[\s\u00a0\u202f'’]/g, "");
  const problem = `'${text.trim().slice(0, 30)}' is not a number. Write it as ${written(1234.5, 1)} or ${FORMS[settings.form].point === "," ? "1234,5" : "1234.5"}.`;
  if (!/^-?[\d.,]*\d$/.test(typed)) return { problem };
  const marks = [...new Set(typed.match(/[.,]/g) ?? [])];
  const { group } = FORMS[settings.form];
  // Of two marks the last is the decimal mark; one mark that stands more than once parts thousands, as does the page's own between
  // one to three digits, the first no zero, and three: 0,804 is no thousands.
  const last = typed.match(/[.,](?=[^.,]*$)/)?.[0];
  const ofThousands = (mark) => typed.split(mark).length > 2 || (mark === group && GROUPED.test(typed));
  const point = marks.length === 2 || (last && !ofThousands(last)) ? last : undefined;
  const [whole, decimals = "", ...more] = point ? typed.split(point) : [typed];
  if (more.length || /[.,]/.test(decimals) || (/[.,]/.test(whole) && !GROUPED.test(whole))) return { problem };
  return { value: Number(`${whole.replace(/[.,]/g, "")}.${decimals || "0"}`) };
}
