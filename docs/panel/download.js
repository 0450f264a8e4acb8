// Handing a file to the reader, and what files are called: page, flight, time.

import { make } from "./dom.js";

/** Hand a Blob to the reader as a file. */
export function handOver(blob, name) {
  const address = URL.createObjectURL(blob);
  const link = make("a", { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  // Some browsers read the file only a little later.
  window.setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** `cruise-day-sector-1h21m42s-plan.svg`: no sign in it that a file system refuses. */
export function fileName({ page, flight, timeS = null, what, ending }) {
  const place = page.replace(/^.*\//, "").replace(/\.html$/, "");
  const words = [place, flight, ...(timeS === null ? [] : [timeWords(timeS)]), what].filter(Boolean);
  return `${words.join("-").toLowerCase().replace(/[^a-z0-9-]+/g, "-")}.${ending}`;
}

function timeWords(timeS) {
  const seconds = Math.floor(timeS);
  const two = (value) => String(value).padStart(2, "0");
  return `${Math.floor(seconds / 3600)}h${two(Math.floor(seconds / 60) % 60)}m${two(seconds % 60)}s`;
}
