// A sign that a worker has ended, however it ended: no message tells a page that a browser short of memory has stopped one.
//
// The worker holds one end of something that the browser lets go of with it: of a channel, where the browser says when the
// other end is gone; else a lock, which only a page from HTTPS or from this device may use. Neither asks the worker anything,
// so one that is busy for long is not taken for one that has ended. Where there is neither, silence is all that is heard.

let locks = 0;

/**
 * @param {Worker} worker one that has said it is there
 * @param {() => void} onEnd called once, when it has ended and nobody has `cut` the line
 * @returns {{held: () => void, cut: () => void}} `held` is to be called when the worker says that it holds its end
 */
export function lifeline(worker, onEnd, { channel = "onclose" in MessagePort.prototype, manager = navigator.locks } = {}) {
  let watched = true;
  const ended = () => {
    if (watched) onEnd();
    watched = false;
  };
  if (channel) {
    const { port1, port2 } = new MessageChannel();
    port1.onclose = ended;
    port1.start();
    worker.postMessage({ type: "hold", port: port2 }, [port2]);
    return {
      held: () => {},
      cut: () => {
        watched = false;
        port1.close();
      },
    };
  }
  if (!manager) return { held: () => {}, cut: () => {} };
  locks += 1;
  // Pages of one site share their locks.
  const name = `wetwing-worker-${locks}-${Date.now()}-${Math.random()}`;
  worker.postMessage({ type: "hold", lock: name });
  return {
    held: () => void manager.request(name, ended).catch(() => {}),
    cut: () => {
      watched = false;
    },
  };
}
