// Fetches the runtime's parts as classic scripts, the one way that works from every host and from a folder.
// Where a script does not hand over its part, finds out why; a part that comes whole on a second, direct way is used.

import { RuntimeFault } from "./faults.js";

const SHELF = "wetwingRuntime"; // where a part's script puts its text, under "version/name"
const AT_ONCE = 4; // more at a time would show less progress on a slow link
const PART = /^\(self\.(\w+)=self\.\1\|\|\{\}\)\["([0-9a-f]+)\/([a-z]+-\d+)"\]="([A-Za-z0-9+/=]*)(";\s*)?$/;

/** The runtime's parts of one manifest. Each is fetched once, and asked for in any order. */
export class Parts {
  /**
   * @param {string} base absolute address of the folder, with a slash at its end
   * @param {object} manifest as the build made it
   * @param {(loaded: number, total: number) => void} onProgress characters here, and in all
   */
  constructor(base, manifest, onProgress) {
    this.base = base;
    this.manifest = manifest;
    this.onProgress = onProgress;
    this.texts = new Map();
    this.waiting = [];
    this.busy = 0;
    this.left = 0;
    this.loaded = 0;
    this.total = 0;
    for (const [, chars] of Object.values(manifest.pieces).flat()) {
      this.total += chars;
      this.left += 1;
    }
  }

  /** Start fetching every part, in the order of the pieces' names given. */
  fetchAll(order) {
    for (const piece of order) this.piece(piece).forEach((text) => text.catch(() => {})); // told to whoever asks
  }

  /** @returns {Promise<string>[]} the base64 texts of a piece's parts, in order */
  piece(name) {
    return this.manifest.pieces[name].map(([file, chars]) => {
      if (!this.texts.has(file)) this.texts.set(file, this.queue(() => this.fetch(file, chars)));
      return this.texts.get(file);
    });
  }

  /** Whether every part is here or known to be lost. */
  get settled() {
    return this.left === 0;
  }

  queue(work) {
    const left = () => {
      this.left -= 1;
    };
    return new Promise((resolve, reject) => {
      this.waiting.push(() => work().finally(left).then(resolve, reject));
      this.next();
    });
  }

  next() {
    while (this.busy < AT_ONCE && this.waiting.length) {
      this.busy += 1;
      this.waiting.shift()().finally(() => {
        this.busy -= 1;
        this.next();
      });
    }
  }

  async fetch(file, chars) {
    const address = new URL(file, this.base).href;
    const name = file.replace(/\.js$/, "");
    const ran = await runScript(address);
    const text = this.take(name);
    const whole = text?.length === chars ? text : await this.diagnose(address, file, name, chars, ran);
    this.loaded += chars;
    this.onProgress(this.loaded, this.total);
    return whole;
  }

  take(name) {
    const shelf = globalThis[SHELF] ?? {};
    const text = shelf[`${this.manifest.version}/${name}`];
    for (const key of Object.keys(shelf)) if (key.endsWith(`/${name}`)) delete shelf[key];
    return text;
  }

  /** Return the part's text if it can be had directly; else throw the fault that says what came in its place. */
  async diagnose(address, file, name, chars, ran) {
    if (!/^https?:/.test(address)) throw new RuntimeFault(ran ? "altered" : "unreadable", { file });
    let response;
    let body;
    try {
      response = await fetch(address, { cache: "reload" }); // past a stale or poisoned cache
      body = await response.text();
    } catch (error) {
      throw new RuntimeFault(ran ? "altered" : "unreachable", { file, technical: error.message });
    }
    if (!response.ok) throw new RuntimeFault("missing", { file, status: response.status });
    const [, , version, part, text, end] = PART.exec(body) ?? [];
    if (version === undefined) {
      const isPage = /^\s*</.test(body) || /html/.test(response.headers.get("Content-Type") ?? "");
      const wanted = chars;
      if (isPage) throw new RuntimeFault("page-instead", { file });
      if (body.length < chars) throw new RuntimeFault("cut-short", { file, found: body.length, wanted });
      throw new RuntimeFault("altered", { file });
    }
    if (version !== this.manifest.version) {
      throw new RuntimeFault("other-version", { file, found: version, wanted: this.manifest.version });
    }
    if (part !== name || text.length > chars) throw new RuntimeFault("altered", { file });
    if (text.length < chars || !end) throw new RuntimeFault("cut-short", { file, found: text.length, wanted: chars });
    return text;
  }
}

/** Run a script by its address; resolve to whether the browser got one, whatever it held. */
function runScript(address) {
  return new Promise((resolve) => {
    const script = document.createElement("script");
    const done = (ran) => () => {
      script.remove();
      resolve(ran);
    };
    script.onload = done(true);
    script.onerror = done(false);
    script.src = address;
    document.head.append(script);
  });
}

/** Unpack base64 gzip to text; only for the worker's source, which the page itself needs. */
export async function unpackText(base64) {
  const binary = atob(base64);
  const bytes = Uint8Array.from(binary, (character) => character.charCodeAt(0));
  const unpacked = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  try {
    return await new Response(unpacked).text();
  } catch (error) {
    throw new RuntimeFault("damaged", { technical: `script: ${error.message}` });
  }
}
