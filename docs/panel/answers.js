// What a reader answered: one record a question, and how two records of the same question become one.
//
// { page, question, kind, title, ask, answer, right, sure, at, tries, first: { answer, right, sure, at } }
// `at` is when, as ISO 8601 in universal time. The last answer stands at the top; the first stays, because it was the prediction.
// A hidden trouble has `looks` and `fewest` besides.

export const SURE = [["guess", "a guess"], ["rather", "fairly sure"], ["certain", "certain"]];
export const KINDS = { choose: "choice", order: "order", sketch: "sketch", number: "figure", challenge: "hidden trouble" };
const PAGE = /^(?:[a-z0-9][a-z0-9_-]*\/){0,6}[a-z0-9][a-z0-9_-]*\.html$/i;
const QUESTION = /^[a-z][a-z0-9-]{0,79}$/;
const MOST_TEXT = 1000;

export function sureWords(value) {
  return SURE.find(([own]) => own === value)?.[1] ?? "";
}

export function nameOf({ page, question }) {
  return `${page}#${question}`;
}

/** A record with one answer more; `before` is what was known of the question. */
export function answered(before, given) {
  const { page, question, kind, title, ask, answer, right, sure, at, looks = null, fewest = null } = given;
  const own = { page, question, kind, title, ask, answer, right, sure, at, tries: (before?.tries ?? 0) + 1 };
  if (looks !== null) Object.assign(own, { looks, fewest });
  return { ...own, first: before?.first ?? { answer, right, sure, at } };
}

/** One record of two: the later answer, the earlier first answer, and the greater number of tries. In any order the same. */
export function merged(one, other) {
  if (!one || !other) return one ?? other;
  const rank = (entry) => `${entry.at} ${JSON.stringify([entry.answer, entry.right, entry.sure])}`;
  const last = rank(one) >= rank(other) ? one : other;
  const first = rank(one.first) <= rank(other.first) ? one.first : other.first;
  return { ...last, tries: Math.max(one.tries, other.tries), first };
}

/** Lists of records as one list, a question once, by name. */
export function mergedLists(...lists) {
  const found = new Map();
  for (const record of lists.flat()) found.set(nameOf(record), merged(found.get(nameOf(record)), record));
  return [...found.values()].sort((a, b) => (nameOf(a) < nameOf(b) ? -1 : 1));
}

/** A record that may have come from anywhere: the same with what is known of records alone, or null where it is none. */
export function checked(found) {
  if (typeof found !== "object" || found === null) return null;
  const { page, question, kind, title, ask, tries, first, looks, fewest } = found;
  const fits = [
    typeof page === "string" && PAGE.test(page), typeof question === "string" && QUESTION.test(question), Object.hasOwn(KINDS, kind),
    [title, ask].every(isText), Number.isInteger(tries) && tries > 0 && tries < 1e6, isAnswer(found), isAnswer(first),
  ];
  if (fits.includes(false)) return null;
  const own = { page, question, kind, title, ask, ...answerOf(found), tries, first: answerOf(first) };
  return [looks, fewest].every((count) => Number.isInteger(count) && count >= 0 && count < 1e6) ? { ...own, looks, fewest } : own;
}

const answerOf = ({ answer, right, sure, at }) => ({ answer, right, sure, at });
const isText = (text) => typeof text === "string" && text.length <= MOST_TEXT;

function isAnswer(found) {
  if (typeof found !== "object" || found === null) return false;
  const { answer, right, sure, at } = found;
  const when = typeof at === "string" && /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z$/.test(at) && !Number.isNaN(Date.parse(at));
  return isText(answer) && typeof right === "boolean" && SURE.some(([value]) => value === sure) && when;
}

/**
 * What a reader should look at again, worst first: wrong and certain, then wrong and fairly sure, then wrong guesses, by the first
 * answer where it was wrong and certain even if a later one is right.
 */
export function worthAnotherLook(records) {
  const weight = { certain: 3, rather: 2, guess: 1 };
  const heaviness = (record) => {
    const now = record.right ? 0 : weight[record.sure];
    const then = !record.first.right && record.first.sure === "certain" ? 2.5 : 0;
    return Math.max(now, then);
  };
  const found = records.map((record) => ({ record, heavy: heaviness(record) })).filter(({ heavy }) => heavy > 0);
  return found.sort((a, b) => b.heavy - a.heavy || (nameOf(a.record) < nameOf(b.record) ? -1 : 1)).map(({ record }) => record);
}

/** Records by page, in the order of the pages' names. @returns {{page: string, title: string, records: object[]}[]} */
export function byPage(records) {
  const pages = new Map();
  for (const record of mergedLists(records)) {
    if (!pages.has(record.page)) pages.set(record.page, { page: record.page, title: record.title, records: [] });
    pages.get(record.page).records.push(record);
  }
  return [...pages.values()];
}

/** How well a reader knows what they know: for each degree of sureness how many first answers, and how many of them right. */
export function calibration(records) {
  return SURE.map(([value, words]) => {
    const own = records.filter(({ first }) => first.sure === value);
    return { sure: value, words, count: own.length, right: own.filter(({ first }) => first.right).length };
  });
}
