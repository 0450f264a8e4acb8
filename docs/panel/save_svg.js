// A picture of the panel as a file of its own: every style written into it, with a title, a description and a caption.

import { makeSvg } from "./dom.js";

const LINE = 16;
const MARGIN = 14;
// What a style sheet may say of a picture, and what holds where nothing is said. Inherited ones are written where they change.
const INHERITED = {
  fill: "rgb(0, 0, 0)", stroke: "none", "stroke-width": "1px", "stroke-dasharray": "none", "stroke-linecap": "butt",
  "stroke-linejoin": "miter", "stroke-opacity": "1", "fill-opacity": "1", "paint-order": "normal", "font-family": "",
  "font-size": "", "font-weight": "400", "text-anchor": "start", "text-decoration-line": "none",
};
const OWN = { opacity: "1", "stop-color": "rgb(0, 0, 0)", "stop-opacity": "1", "clip-path": "none" };
const NOT_DRAWN = ["hit", "cursor-head"];

/**
 * A picture on show as an SVG document.
 * @param {SVGElement} picture what is on show now, for its styles are read from it
 * @param {{title: string, caption: string[], paper: string, ink: string}} words
 */
export function savedSvg(picture, { title, caption, paper, ink }) {
  const copy = picture.cloneNode(true);
  inline(picture, copy, {});
  const { width, height } = picture.viewBox.baseVal;
  const whole = height + caption.length * LINE + MARGIN;
  const font = getComputedStyle(picture).fontFamily;
  const root = makeSvg("svg", {
    xmlns: "http://www.w3.org/2000/svg", viewBox: `0 0 ${width} ${whole}`, width, height: whole, role: "img", "font-family": font,
  });
  const lines = caption.map((text, index) =>
    makeSvg("text", { x: MARGIN, y: height + (index + 1) * LINE - 4, fill: ink, "font-size": 12, "font-family": font }, text),
  );
  root.append(
    makeSvg("title", {}, title),
    makeSvg("desc", {}, caption.join(" ")),
    makeSvg("rect", { width, height: whole, fill: paper }),
    ...copy.childNodes,
    ...lines,
  );
  return `<?xml version="1.0" encoding="UTF-8"?>\n${new XMLSerializer().serializeToString(root)}`;
}

/** Write what the style sheets say of `original` into `copy`, and drop what is not seen. */
function inline(original, copy, above) {
  const style = getComputedStyle(original);
  const here = { ...above };
  for (const [name, usual] of Object.entries(INHERITED)) {
    const value = style.getPropertyValue(name);
    here[name] = value;
    if (value !== (above[name] ?? usual)) copy.setAttribute(name, value);
    else copy.removeAttribute(name);
  }
  for (const [name, usual] of Object.entries(OWN)) {
    const value = style.getPropertyValue(name);
    if (value && value !== usual) copy.setAttribute(name, value);
  }
  const children = [...copy.children];
  [...original.children].forEach((child, index) => {
    const own = children[index];
    const seen = getComputedStyle(child);
    const drawn = !NOT_DRAWN.some((name) => child.classList.contains(name));
    if (seen.display === "none" && child.tagName !== "title" && !child.closest("defs, linearGradient, clipPath")) own.remove();
    else if (!drawn || child.tagName === "style") own.remove();
    else if (seen.visibility === "hidden") own.remove();
    else inline(child, own, here);
  });
  for (const { name } of [...copy.attributes]) if (name === "class" || name.startsWith("data-") || name.startsWith("aria-")) copy.removeAttribute(name);
}

/** The same as a PNG, so many dots for each of the picture's units. @returns {Promise<Blob>} */
export async function savedPng(svg, scale = 2) {
  const image = new Image();
  // A data address is of this page's own origin, even where the page is opened from a folder.
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(image.naturalWidth * scale);
  canvas.height = Math.round(image.naturalHeight * scale);
  canvas.getContext("2d").drawImage(image, 0, 0, canvas.width, canvas.height);
  return new Promise((done, failed) => {
    canvas.toBlob((blob) => (blob ? done(blob) : failed(new Error("The browser made no picture."))), "image/png");
  });
}
