/*
 * What was written on this device and the site may not have yet.
 *
 * An entry belongs to a person, a kind (exam answers, sheets ...) and a key; who is signed in
 * gets at no entry but their own. A change is read, made and written in one transaction, so that
 * writing and sending at once cannot undo each other. It is on the device once the promise is
 * fulfilled; the promise is rejected if the device has no room or forbids it. An entry goes only
 * by `forget`: call that for what the site has confirmed.
 */

const NAME = "outbox";
const ENTRIES = "entries";
const FILES = "files";

function opened() {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore(ENTRIES, { keyPath: ["person", "kind", "key"] });
      const files = asked.result.createObjectStore(FILES, { keyPath: "key" });
      files.createIndex("entry", ["person", "kind", "entry"]);
    };
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
}

let base = null;

/** Return the database, opened once; after a failure the next call tries anew. */
async function database() {
  base ??= opened();
  try {
    const found = await base;
    found.onclose = () => (base = null);
    return found;
  } catch (error) {
    base = null;
    throw error;
  }
}

/** Do `action` with the object store `name`; return its request's result once all is written. */
async function run(name, mode, action) {
  const transaction = (await database()).transaction(name, mode, { durability: "strict" });
  return new Promise((resolve, reject) => {
    let asked = null;
    transaction.oncomplete = () => resolve(asked?.result);
    transaction.onabort = () => reject(transaction.error ?? new DOMException("", "AbortError"));
    asked = action(transaction.objectStore(name));
  });
}

/** Return a name that nobody else makes up. Works on a plain http address too. */
export function madeUp() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Return who is signed in on this page, 0 if nobody. */
export function person() {
  return Number(document.documentElement.dataset.person ?? 0);
}

/** The entries of one kind of one person. */
export class Outbox {
  constructor(owner, kind) {
    Object.assign(this, { owner, kind });
  }

  at(key) {
    return [this.owner, this.kind, key];
  }

  /** Return all entries, the one changed last first. */
  async all() {
    const range = IDBKeyRange.bound(this.at(""), this.at([]));
    const found = await run(ENTRIES, "readonly", (store) => store.getAll(range));
    return found.sort((one, other) => other.changed - one.changed);
  }

  /** Return the entry `key`, undefined if there is none. */
  get(key) {
    return run(ENTRIES, "readonly", (store) => store.get(this.at(key)));
  }

  /** Write down `told` as the entry `key`, in place of what was there; return it. */
  async put(key, told) {
    const entry = { changed: Date.now(), ...told, person: this.owner, kind: this.kind, key };
    await run(ENTRIES, "readwrite", (store) => store.put(entry));
    return entry;
  }

  /** Have `change(entry)` change the entry `key`; return it, undefined if it is gone. */
  async change(key, change) {
    let entry;
    await run(ENTRIES, "readwrite", (store) => {
      const asked = store.get(this.at(key));
      asked.onsuccess = () => {
        entry = asked.result;
        if (!entry) return;
        change(entry);
        store.put(entry);
      };
    });
    return entry;
  }

  /** Forget the entry `key`, its files too, if it is still one that `isDone` says yes to. */
  async forget(key, isDone = () => true) {
    let isForgotten = false;
    await run(ENTRIES, "readwrite", (store) => {
      const asked = store.get(this.at(key));
      asked.onsuccess = () => {
        isForgotten = Boolean(asked.result) && isDone(asked.result);
        if (isForgotten) store.delete(this.at(key));
      };
    });
    if (!isForgotten) return;
    for (const file of await this.filesOf(key)) await run(FILES, "readwrite", (store) => store.delete(file.key));
  }

  /** Write down the file `blob` under `file`, a key of its own, as part of the entry `key`. */
  async addFile(key, file, blob) {
    const told = { key: file, person: this.owner, kind: this.kind, entry: key, blob };
    await run(FILES, "readwrite", (store) => store.put(told));
  }

  /** Return the files of the entry `key` that are on this device: {key, blob}. */
  filesOf(key) {
    return run(FILES, "readonly", (store) => store.index("entry").getAll(this.at(key)));
  }
}
