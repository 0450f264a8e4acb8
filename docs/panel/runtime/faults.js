// What can keep the simulation from running, in words for the reader and for whoever runs the site.
// Each entry: a title, and a detail that says what happened and what can be done. `{…}` is filled from the fault's facts.

const HOST = "Whoever runs this site";
const COPY_AGAIN = `${HOST} can copy the whole site folder again.`;

export const FAULTS = {
  "no-webassembly": [
    "WebAssembly is switched off in this browser",
    "The simulation is WebAssembly, and this browser's settings or your organisation's policy do not allow it. " +
      "Whoever manages this device can allow WebAssembly for this site.",
  ],
  "wasm-policy": [
    "This site's security policy blocks WebAssembly",
    "The server sends a content security policy that lacks 'wasm-unsafe-eval'. " +
      `${HOST} can add 'wasm-unsafe-eval' to its script-src.`,
  ],
  "worker-policy": [
    "This site's security policy blocks workers",
    "The simulation runs in a worker, and the browser refused both ways to start one. " +
      `${HOST} can add blob: and 'self' to worker-src in the content security policy.`,
  ],
  "old-browser": [
    "This browser is too old for the simulation",
    "It lacks {lacking}. Open this page in a current version of any common browser.",
  ],
  missing: [
    "A file of the simulation is missing",
    `The server answered {status} for {file}. ${COPY_AGAIN}`,
  ],
  unreadable: [
    "A file of the simulation could not be read",
    "{file} is missing from the site's folder, or may not be read. Copy the whole folder again, with its assets folder.",
  ],
  unreachable: [
    "The server could not be reached",
    "No answer came for {file}. Check the connection, then try again.",
  ],
  "page-instead": [
    "A web page came in place of a file",
    "The answer for {file} was a web page: a sign-in page, a proxy's block page or an error page. " +
      `Sign in again and reload. If it stays, ${HOST.toLowerCase()} can let .js files through.`,
  ],
  "cut-short": [
    "A file of the simulation arrived incomplete",
    `{file} holds {found} of {wanted} characters. Reload the page. If it stays, the copy on the server is cut short. ${COPY_AGAIN}`,
  ],
  "other-version": [
    "Files of two versions are mixed",
    "This page belongs to version {wanted}, but {file} is of version {found}. Reload the page. " +
      `If it stays, an upgrade is half done or a cache is stale. ${COPY_AGAIN}`,
  ],
  altered: [
    "A file of the simulation is not what was built",
    `{file} is damaged, cut short or replaced by something else. Reload the page. If it stays: ${COPY_AGAIN}`,
  ],
  damaged: [
    "A file of the simulation is damaged",
    `The checksum inside it does not fit its content ({technical}). ${COPY_AGAIN}`,
  ],
  stalled: [
    "The simulation's files do not arrive",
    "Nothing has come from the server for {seconds} seconds: {loaded} of {total} MB are here. " +
      "Check the connection, then try again.",
  ],
  bytecode: [
    "The simulation was built for another Python",
    `A compiled module does not fit the interpreter ({technical}). ${HOST} can build the site again, with Python 3.13.`,
  ],
  memory: [
    "There is not enough memory",
    "The simulation needs about 70 MB and the browser could not give it. Close other pages, then try again.",
  ],
  "start-stalled": [
    "The simulation does not start",
    "It was still not running {seconds} seconds after its files arrived; the last step done was: {stage}. " +
      "Close other pages, then try again.",
  ],
  "start-failed": [
    "The simulation failed to start",
    "The browser's Python stopped with an error. Reload the page. If it stays, send the text below to whoever runs this site.",
  ],
  "no-answer": [
    "The simulation gave no answer",
    "It worked for {seconds} seconds without a result, was ended, and is starting again.",
  ],
  crash: [
    "The simulation stopped",
    "It ended with an error while it worked on this, twice. It is starting again.",
  ],
  "keeps-stopping": [
    "The simulation keeps stopping",
    "It was started again {times} times and stopped each time. Close other pages, then try again.",
  ],
  stopped: [
    "The simulation was ended",
    "This page ended it. Reload the page to start it again.",
  ],
};

/** An error whose title and detail can be shown as they are; `cause` is a key of FAULTS, `technical` the raw reason. */
export class RuntimeFault extends Error {
  constructor(cause, facts = {}) {
    const known = cause in FAULTS ? cause : "start-failed";
    const [title, detail] = FAULTS[known];
    const filled = detail.replace(/\{(\w+)\}/g, (_mark, name) => String(facts[name] ?? "unknown"));
    super(`${title}. ${filled}`);
    this.name = "RuntimeFault";
    this.title = title;
    this.detail = filled;
    this.cause = known;
    this.technical = facts.technical === undefined ? "" : String(facts.technical);
  }
}
