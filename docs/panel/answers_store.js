// Where results are kept: on this device; where that is refused or full, for this visit; at the least until the page is left.
//
// Each question has an entry of its own, and what is there is read again before it is written: two tabs lose nothing of each other.

import { checked, merged, nameOf } from "./answers.js";

const PREFIX = "ww-answer:";
export const PLACES = {
  device: null,
  visit: "This browser does not let the page keep anything on the device, so your results last until you close this tab.",
  page: "This browser does not let the page keep anything, so your results last until you leave this page.",
};

export class AnswerStore {
  /** @param {Storage[]} stores the device's and the visit's, each null where the browser refuses it */
  constructor(stores = browserStores()) {
    this.stores = stores;
    this.page = new Map();
  }

  read(name) {
    const own = this.copies(name).map(parsed);
    return own.reduce(merged, null);
  }

  /** Keep a record. @returns {"device"|"visit"|"page"} where it is now */
  write(record) {
    const text = JSON.stringify(record);
    const key = PREFIX + nameOf(record);
    for (const [at, store] of this.stores.entries()) {
      try {
        if (!store) continue;
        store.setItem(key, text);
        return at === 0 ? "device" : "visit";
      } catch {
        // Full, or refused: the next place.
      }
    }
    this.page.set(key, text);
    return "page";
  }

  all() {
    const names = new Set([...this.keys()].map((key) => key.slice(PREFIX.length)));
    return [...names].map((name) => this.read(name)).filter((record) => record !== null);
  }

  clear() {
    for (const key of [...this.keys()]) {
      this.page.delete(key);
      for (const store of this.stores) attempt(() => store?.removeItem(key));
    }
  }

  /** Put records in beside what is there. @returns {"device"|"visit"|"page"} the least lasting place of them */
  putIn(records) {
    const places = records.map((record) => this.write(merged(this.read(nameOf(record)), record)));
    return Object.keys(PLACES).findLast((place) => places.includes(place)) ?? "device";
  }

  *keys() {
    for (const store of this.stores) {
      const count = attempt(() => store?.length) ?? 0;
      for (let at = 0; at < count; at += 1) {
        const key = attempt(() => store.key(at));
        if (key?.startsWith(PREFIX)) yield key;
      }
    }
    yield* this.page.keys();
  }

  copies(name) {
    const key = PREFIX + name;
    return [...this.stores.map((store) => attempt(() => store?.getItem(key))), this.page.get(key)].filter((text) => typeof text === "string");
  }
}

/** Tell when another tab has written or cleared a result. */
export function onOtherTabs(listener) {
  window.addEventListener("storage", (event) => {
    if (event.key === null || event.key.startsWith(PREFIX)) listener();
  });
}

function parsed(text) {
  try {
    return checked(JSON.parse(text));
  } catch {
    return null;
  }
}

function browserStores() {
  return [attempt(() => window.localStorage) ?? null, attempt(() => window.sessionStorage) ?? null];
}

function attempt(ask) {
  try {
    return ask();
  } catch {
    return null;
  }
}
