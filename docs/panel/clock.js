// Times of a flight, written and read.

/** Write a time as h:mm:ss, the whole seconds of what `exactClock` writes: what a moving clock shows. */
export function clock(timeS) {
  return hms(Math.floor(upToTenth(timeS)));
}

/**
 * Write a time as h:mm:ss, with a tenth only where it is needed. Rounded up to that tenth, so that the text,
 * typed back, never lies before the change that it names.
 */
export function exactClock(timeS) {
  const tenths = Math.max(0, Math.ceil(timeS * 10 - 1e-6));
  const rest = tenths % 10;
  return hms((tenths - rest) / 10) + (rest ? `.${rest}` : "");
}

/** Round a time up to the tenth that `exactClock` writes. */
export function upToTenth(timeS) {
  return Math.max(0, Math.ceil(timeS * 10 - 1e-6)) / 10;
}

/** Read h:mm:ss or h:mm:ss.s to seconds. @returns {{timeS: number}|{problem: string}} */
export function parseClock(text) {
  const found = /^(\d{1,3}):([0-5]\d):([0-5]\d(?:\.\d{1,3})?)$/.exec(text.trim());
  if (!found) return { problem: `'${text.slice(0, 40)}' is not a time. Write h:mm:ss, such as 2:12:40.` };
  return { timeS: Number(found[1]) * 3600 + Number(found[2]) * 60 + Number(found[3]) };
}

/** A length of time in words: `41 s`, `16 min 20 s`, `2 h 05 min`. */
export function span(durationS) {
  const seconds = Math.max(0, Math.floor(durationS + 0.5));
  if (seconds < 60) return `${seconds} s`;
  const minutes = Math.floor(seconds / 60);
  if (minutes < 60) return seconds % 60 ? `${minutes} min ${seconds % 60} s` : `${minutes} min`;
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")} min`;
}

function hms(seconds) {
  const two = (value) => String(value).padStart(2, "0");
  return `${Math.floor(seconds / 3600)}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
}
