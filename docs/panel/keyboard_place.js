// Where the keyboard stands: kept when what it stood on is made anew, rests or goes away.

/** How far down the window something may begin and still be seen there, as a share of its height. */
const SEEN = 0.8;

/**
 * Make the insides of some places anew. Where the keyboard stood in one of them it goes on there: from the button of the same
 * words, or else from the first; and where there is none any more, from `after`.
 */
export function keepPlace(places, renew, after = null) {
  const before = document.activeElement;
  const held = places.find((place) => place.contains(before));
  renew();
  if (!held || held.contains(document.activeElement)) return;
  const buttons = [...held.querySelectorAll("button")];
  const goal = buttons.find((own) => wordsOf(own) === wordsOf(before)) ?? buttons[0] ?? after;
  held.scrollTop = 0;
  goal?.focus({ preventScroll: held.contains(goal) && goal === buttons[0] });
}

/** Change what rests or is hidden. Where the keyboard stood on something in `places` that is so now, the first usable of `others` takes it. */
export function handOn(places, change, ...others) {
  const before = document.activeElement;
  const held = places.some((place) => place.contains(before));
  change();
  if (held && !usable(before)) others.find(usable)?.focus({ preventScroll: true });
}

/**
 * Bring the panel's frame to the head of the window. The keyboard goes on from the flight line; where that lies below the window,
 * from `head`, which stands at the head of the panel.
 */
export function goToFrame(panel, head, behavior = "auto") {
  const [frame, line] = [".ww-frame", ".ww-flightline"].map((name) => panel.querySelector(name));
  frame.scrollIntoView({ behavior, block: "start" });
  const down = line.getBoundingClientRect().top - frame.getBoundingClientRect().top;
  (down > SEEN * window.innerHeight ? head : line).focus({ preventScroll: true });
}

function usable(element) {
  return element.isConnected && !element.disabled && element.getClientRects().length > 0;
}

function wordsOf(button) {
  return button.getAttribute("aria-label") ?? button.textContent;
}

/** What stands above an element has another height now: the element stays where the reader had it, `topPx` below the window's top. */
export function holdPlace(element, topPx) {
  const hold = () => window.scrollBy({ top: element.getBoundingClientRect().top - topPx, behavior: "instant" });
  hold();
  // Some of what stands above is laid out with the next picture.
  window.requestAnimationFrame(hold);
}
