// Copies of what a panel shows: they stand still, can't be pressed, and share no name with the original.

const HOOKS = [
  "data-value", "data-unit", "data-unit-word", "data-rate", "data-state", "data-now-of", "data-flow", "data-fill", "data-when",
  "data-unless", "data-part", "data-for", "data-row", "data-control", "data-ww-time",
];
const REFERENCES = ["for", "aria-labelledby", "aria-describedby", "aria-controls", "href"];
const SLIDER = ["role", "tabindex", "aria-valuemin", "aria-valuemax", "aria-valuenow", "aria-valuetext"];

let made = 0;

/** A picture again, with names of its own. Its hooks stay, so that it can be painted for another moment. */
export function pictureCopy(picture) {
  const copy = picture.cloneNode(true);
  ownNames(copy);
  return copy;
}

/** What an element shows, as it is now. */
export function stillCopy(element) {
  const copy = element.cloneNode(true);
  const wholes = element.querySelectorAll("svg *");
  [...copy.querySelectorAll("svg *")].forEach((own, index) => {
    // What is covered stays covered, although the copy has no hook that says so.
    if (getComputedStyle(wholes[index]).visibility === "hidden") own.classList.add("ww-unseen");
  });
  dropFits(element, copy);
  for (const own of copy.querySelectorAll("button, a")) {
    const text = document.createElement("span");
    text.append(...own.childNodes);
    own.replaceWith(text);
  }
  for (const own of copy.querySelectorAll("select, input, label")) own.remove();
  for (const own of [copy, ...copy.querySelectorAll("*")]) for (const name of HOOKS) own.removeAttribute(name);
  if (copy.getAttribute("role") === "slider") {
    for (const name of SLIDER) copy.removeAttribute(name);
    copy.setAttribute("role", "group");
  }
  ownNames(copy);
  return copy;
}

/** Of several pictures only the one on show is copied. */
function dropFits(element, copy) {
  const originals = [...element.querySelectorAll(".ww-fit")];
  [...copy.querySelectorAll(".ww-fit")].forEach((fit, index) => {
    if (originals[index].offsetParent === null) fit.remove();
    else fit.className = "ww-still-fit";
  });
}

/** Give every name that a page may hold once, and every reference to one, an ending of its own. */
function ownNames(root) {
  made += 1;
  const ending = `-copy-${made}`;
  for (const own of [root, ...root.querySelectorAll("*")]) {
    if (own.id) own.id += ending;
    for (const name of REFERENCES) {
      const found = own.getAttribute(name);
      if (found && (name !== "href" || found.startsWith("#"))) own.setAttribute(name, `${found}${ending}`);
    }
    for (const { name, value } of [...own.attributes]) {
      if (value.includes("url(#")) own.setAttribute(name, value.replace(/url\(#([^)]+)\)/g, `url(#$1${ending})`));
    }
  }
}
