import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

const { NotNow, post, Sender, SignedOut, told } = await import("../../training/static/js/sending.js");

let locked = [];

beforeEach(() => {
  // A page of its own for each test: what listens on another's would go on sending.
  globalThis.window = new EventTarget();
  globalThis.document = Object.assign(new EventTarget(), { hidden: false });
  locked = [];
  let last = Promise.resolve();
  const locks = {
    request(name, action) {
      locked.push(name);
      last = last.then(action);
      return last;
    },
  };
  Object.defineProperty(globalThis, "navigator", { value: { locks }, configurable: true });
});

function answering(t, ...answers) {
  return t.mock.method(globalThis, "fetch", async () => {
    const answer = answers.shift();
    if (answer instanceof Error) throw answer;
    return answer;
  });
}

const settled = () => new Promise((resolve) => setImmediate(resolve));

test("what the site refuses is returned, what it cannot take now is thrown", async (t) => {
  answering(
    t,
    new Response("{}"),
    new Response("{}", { status: 422 }),
    new Response("", { status: 503 }),
    new Response("", { status: 429 }),
    new Response("", { status: 403 }),
    { type: "opaqueredirect", status: 0 },
    new TypeError("no connection"),
  );
  assert.equal((await post("/", "")).status, 200);
  assert.equal((await post("/", "")).status, 422);
  for (const status of [503, 429]) {
    await assert.rejects(post("/", ""), (error) => error instanceof NotNow && error.status === status);
  }
  for (const status of [403, 0]) {
    await assert.rejects(post("/", ""), (error) => error instanceof SignedOut && error.status === status);
  }
  await assert.rejects(post("/", ""), (error) => error instanceof NotNow && error.status === 0);
});

test("a connection that hangs is broken off, before the answer and within it", async (t) => {
  const waits = [];
  const hanging = new AbortController();
  t.mock.method(AbortSignal, "timeout", (wait) => {
    waits.push(wait);
    return hanging.signal;
  });
  const broken = (signal) => new Promise((_, reject) => signal.addEventListener("abort", () => reject(signal.reason)));
  t.mock.method(globalThis, "fetch", (address, { signal }) => {
    if (address === "/silent") return broken(signal);
    return Promise.resolve({ status: 200, json: () => broken(signal) });
  });
  const silent = assert.rejects(post("/silent", ""), (error) => error instanceof NotNow && error.status === 0);
  const halting = assert.rejects(told(await post("/halting", "", {}, 120000)), NotNow);
  hanging.abort();
  await Promise.all([silent, halting]);
  assert.deepEqual(waits, [30000, 120000]);
});

test("an answer that breaks off is as good as none", async () => {
  await assert.rejects(told(new Response('{"revision": ')), NotNow);
});

test("it is tried again ever less often, and at most a minute apart", async (t) => {
  t.mock.timers.enable({ apis: ["setTimeout"] });
  t.mock.method(Math, "random", () => 0.5);
  let tries = 0;
  const work = async () => {
    tries += 1;
    throw new NotNow();
  };
  const failures = [];
  const sender = new Sender("test", work, (error) => failures.push(error));
  assert.equal(await sender.send(), null);
  for (const wait of [2000, 4000, 8000, 16000, 32000, 60000, 60000]) {
    const before = tries;
    t.mock.timers.tick(wait - 1);
    await settled();
    assert.equal(tries, before);
    t.mock.timers.tick(1);
    await settled();
    assert.equal(tries, before + 1);
  }
  assert.equal(failures.length, tries);
});

test("at once when the connection or the reader is back", async () => {
  let sent = 0;
  new Sender("test", async () => (sent += 1), assert.fail);
  window.dispatchEvent(new Event("online"));
  await settled();
  document.hidden = true;
  document.dispatchEvent(new Event("visibilitychange"));
  await settled();
  assert.equal(sent, 1);
  document.hidden = false;
  document.dispatchEvent(new Event("visibilitychange"));
  await settled();
  assert.equal(sent, 2);
});

test("signed out it waits for its writer and does not try again by itself", async (t) => {
  t.mock.timers.enable({ apis: ["setTimeout"] });
  let tries = 0;
  const work = async () => {
    tries += 1;
    throw new SignedOut(0);
  };
  const sender = new Sender("test", work, (error) => assert.ok(error instanceof SignedOut));
  await sender.send();
  t.mock.timers.tick(10 * 60000);
  await settled();
  assert.equal(tries, 1);
});

test("one at a time, with locks and without", async () => {
  for (const locks of [navigator.locks, undefined]) {
    Object.defineProperty(globalThis, "navigator", { value: { locks }, configurable: true });
    let under = 0;
    const work = async () => {
      under += 1;
      assert.equal(under, 1);
      await settled();
      under -= 1;
      return "said";
    };
    const sender = new Sender("test", work, assert.fail);
    assert.deepEqual(await Promise.all([sender.send(), sender.send()]), ["said", "said"]);
  }
  assert.deepEqual(locked, ["sending test", "sending test"]);
});
