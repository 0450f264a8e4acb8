// Small helpers for making elements; text is always text, never markup.

/** Make an element: `make("button", { class: "ww-x", type: "button" }, "Undo")`. */
export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === false) continue;
    element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children);
  return element;
}

/** Pieces that stay in one line, such as a button with the full stop after it. */
export function unbroken(...pieces) {
  return make("span", { class: "ww-unbroken" }, ...pieces);
}

/** Make an element of a picture. */
export function makeSvg(tag, attributes = {}, ...children) {
  const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}

/** Set text and attributes only where they differ, so that nothing is laid out twice. */
export function setText(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

export function setAttribute(element, name, value) {
  if (value === null) {
    if (element.hasAttribute(name)) element.removeAttribute(name);
  } else if (element.getAttribute(name) !== String(value)) {
    element.setAttribute(name, value);
  }
}

/** Show an error where it was made, or clear it. */
export function setProblem(element, text) {
  setText(element, text ?? "");
  element.hidden = !text;
}

export function reducedMotion() {
  return window.matchMedia("(prefers-reduced-motion: reduce)").matches;
}

/** Whether a fold-out is open and nothing that it stands in is folded away. */
export function isOpen(details) {
  return details.open && details.checkVisibility?.() !== false;
}

/** Storage that may be missing, refused or full: reading then gives null, and writing says false. */
export const kept = {
  read(key) {
    try {
      return window.localStorage.getItem(key);
    } catch {
      return null;
    }
  },
  write(key, value) {
    try {
      window.localStorage.setItem(key, value);
      return true;
    } catch {
      // A private window, a policy, no room: the page works without.
      return false;
    }
  },
};

let ids = 0;

/** An id that nothing else in the page has, whatever the number of panels. */
export function nextId(prefix) {
  ids += 1;
  return `${prefix}-${ids}`;
}
