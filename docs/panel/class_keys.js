// The keys of the class view: what each asks for, and where it is left to what has the focus.

export const KEYS = [
  { keys: ["PageDown", "ArrowRight"], shown: "Page down, or right arrow", action: "next", words: "next change" },
  { keys: ["PageUp", "ArrowLeft"], shown: "Page up, or left arrow", action: "back", words: "step back" },
  { keys: ["b", "B", "."], shown: "B, or full stop", action: "freeze", words: "freeze the picture; again: reveal what is behind it" },
  { keys: ["r", "R", "F5"], shown: "R, or F5", action: "reveal", words: "reveal: first what is frozen, then what is covered, one after another" },
  { keys: ["?"], shown: "?", action: "keys", words: "show or hide this list" },
];
/** Told with the others; the browser itself acts on it. */
export const CLOSING = { shown: "Escape", words: "leave the class view; what is covered is uncovered" };

const ARROWS = ["ArrowRight", "ArrowLeft"];

/**
 * What a key asks for in the class view, or null.
 * @param {"text"|"arrows"|"other"} place what has the focus: a field, something that arrow keys move, or neither
 */
export function keyAction({ key, ctrlKey, altKey, metaKey }, place) {
  if (ctrlKey || altKey || metaKey || place === "text") return null;
  if (place === "arrows" && ARROWS.includes(key)) return null;
  return KEYS.find(({ keys }) => keys.includes(key))?.action ?? null;
}

/** What kind of place an element is for keys. */
export function placeOf(element) {
  const tag = element?.tagName?.toLowerCase();
  if (tag === "textarea" || tag === "select" || element?.isContentEditable) return "text";
  if (tag === "input") return { radio: "arrows", range: "arrows", checkbox: "other", button: "other" }[element.type] ?? "text";
  const role = element?.getAttribute?.("role");
  return role === "slider" ? "arrows" : "other";
}
