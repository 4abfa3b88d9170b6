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

function replied(worker, question) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => {
      port1.close();
      resolve(data);
    };
    worker.postMessage(question, [port2]);
  });
}

/** Return null once another worker has taken the place of `worker`, which then replies to nothing. */
function replaced(worker) {
  return new Promise((resolve) => {
    const look = () => worker.state === "redundant" && resolve(null);
    worker.addEventListener("statechange", look);
    look();
  });
}

/**
 * Return what the worker replies to `question`, {ask, ...}; waits until there is a worker.
 *
 * Where a new version of the site brings another meanwhile, that one is asked: a question bears it.
 */
export async function ask(question) {
  const worker = await inCharge();
  return (await Promise.race([replied(worker, question), replaced(worker)])) ?? ask(question);
}
