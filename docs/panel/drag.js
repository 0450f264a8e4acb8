// A drag along time, by mouse, pen or finger. A finger may only want to scroll the page, which shows when it leaves or lifts.

/**
 * Follow a pointer that goes down on an element. A mouse acts at once; a finger once it goes sideways, or lifts where it was.
 * @param {object} hear { begin(event), take(event), end(event), leave() }: `begin` returns false where the drag is not wanted;
 *   `take` hears each place, `end` the last of them; `leave` that the browser took the pointer over, as it does to scroll
 */
export function followDrag(element, { begin = () => true, take, end = () => {}, leave = () => {} }) {
  let held = null;
  element.addEventListener("pointerdown", (event) => {
    if (event.button !== 0 || held !== null || begin(event) === false) return;
    held = event.pointerId;
    element.setPointerCapture(held);
    if (event.pointerType !== "touch") take(event);
  });
  element.addEventListener("pointermove", (event) => event.pointerId === held && take(event));
  element.addEventListener("pointerup", (event) => {
    if (event.pointerId !== held) return;
    held = null;
    if (event.pointerType === "touch") take(event);
    end(event);
  });
  element.addEventListener("pointercancel", (event) => {
    if (event.pointerId !== held) return;
    held = null;
    leave();
  });
}
