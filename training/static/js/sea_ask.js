/* Asks the worker of the site, which alone keeps and forgets what is taken along. */

/** Return whether this browser can keep pages at all; it does so on secure addresses alone. */
export function isAble() {
  return "serviceWorker" in navigator && "caches" in window;
}

/** Return the worker once it is in charge of the open pages. */
async function inCharge() {
  const { active } = await navigator.serviceWorker.ready;
  if (active.state === "activated") return active;
  return new Promise((resolve) => {
    active.addEventListener("statechange", () => resolve(inCharge()), { once: true });
  });
}

/** Return what the worker replies to `question`, {ask, ...}; waits until there is a worker. */
export async function ask(question) {
  const worker = await inCharge();
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => {
      port1.close();
      resolve(data);
    };
    worker.postMessage(question, [port2]);
  });
}
