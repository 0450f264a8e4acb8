// A short replay: the few seconds before a moment, played to it once, because the reader has asked for that.

import { reducedMotion } from "./dom.js";

const LEAD_S = 24;
const LASTS_MS = 4000;

/** Play up to `timeS`. With reduced motion the moment itself is shown. Whoever moves the time ends it. */
export function replay(panel, timeS) {
  const end = panel.flight.hold(timeS);
  const start = Math.max(0, end - LEAD_S);
  if (reducedMotion() || start >= end) return;
  panel.pause();
  const own = {};
  panel.replaying = own;
  let began = null;
  let last = start;
  panel.goTo(start);
  const tick = (now) => {
    began ??= now;
    const moved = Math.abs(panel.timeS - panel.flight.hold(last)) > 1e-6;
    if (panel.replaying !== own || moved || panel.transport.playing || !panel.isConnected) return;
    const share = Math.min((now - began) / LASTS_MS, 1);
    last = share === 1 ? end : start + (end - start) * share;
    panel.goTo(last, { scrubbing: true });
    if (share < 1) window.requestAnimationFrame(tick);
    else panel.replaying = null;
  };
  window.requestAnimationFrame(tick);
}
