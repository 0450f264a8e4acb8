// The address at which others open this site: where it is known, and how it is checked. A code that leads to the reader's own
// disk or loopback would lead nobody anywhere.

const EXAMPLE = "https://training.example/wet-wing/";
const LOOPBACK = /^(localhost|127\.\d+\.\d+\.\d+|\[::1\]|::1)$/i;

/** Read what a reader wrote. @returns {{base: string}|{problem: string}} */
export function readBase(text) {
  const typed = text.trim();
  if (typed === "") return { problem: `Write an address, such as ${EXAMPLE}.` };
  let url;
  try {
    url = new URL(typed);
  } catch {
    return { problem: `'${typed.slice(0, 60)}' is no whole address. Write it with http:// or https://, such as ${EXAMPLE}.` };
  }
  if (!/^https?:$/.test(url.protocol)) {
    return { problem: `'${typed.slice(0, 60)}' begins with '${url.protocol}'. Allowed: http:// and https://.` };
  }
  if (url.username || url.password) return { problem: "The address holds a name or a password. Leave them out: everybody could read them." };
  if (url.search || url.hash) return { problem: `The address has '${(url.search || url.hash).slice(0, 40)}' at its end. Write the folder of the site alone, such as ${EXAMPLE}.` };
  // The address of a page stands for the folder that it lies in.
  const path = url.pathname.replace(/[^/]+\.html?$/i, "").replace(/\/*$/, "/");
  return { base: `${url.origin}${path}` };
}

/** The folder of the site that a page is opened from, or null where others can't open it. */
export function ownBase(href, page) {
  const place = href.replace(/[?#].*$/, "");
  let url;
  try {
    url = new URL(place);
  } catch {
    return null;
  }
  if (!/^https?:$/.test(url.protocol) || LOOPBACK.test(url.hostname)) return null;
  if (place.endsWith(`/${page}`)) return place.slice(0, -page.length);
  // The front page may be asked for by its folder alone.
  return page === "index.html" && place.endsWith("/") ? place : null;
}

/** A state's address for others. */
export function sharedAddress(base, page, fragment) {
  return `${base}${page}${fragment}`;
}
