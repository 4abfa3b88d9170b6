/*
 * Sheets and photos kept on the phone.
 *
 * Each belongs to the account it was written under. A change is read, made and written in
 * one transaction, so that writing and sending at once cannot undo each other; it is kept
 * once the promise is fulfilled.
 */

const NAME = "check sheets";
export const KEPT_PAGE = "check sheet page"; // as the worker calls its cache

function opened() {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("sheets", { keyPath: "key" }).createIndex("user", "user");
      asked.result.createObjectStore("photos", { keyPath: "key" }).createIndex("sheet", "sheet");
    };
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
}

let base = null;

/** Do `action` with the object store `name`; return its request's result once all is written. */
async function run(name, mode, action) {
  base ??= await opened();
  return new Promise((resolve, reject) => {
    const transaction = base.transaction(name, mode, { durability: "strict" });
    const asked = action(transaction.objectStore(name));
    transaction.oncomplete = () => resolve(asked?.result);
    transaction.onabort = () => reject(transaction.error);
  });
}

/** Return the sheets of `user`, the one changed last first. */
export async function sheetsOf(user) {
  const found = await run("sheets", "readonly", (store) => store.index("user").getAll(user));
  return found.sort((one, other) => other.changed - one.changed);
}

/** Return the sheet `key` if it is the user's, undefined if not. */
export async function sheetOf(user, key) {
  const found = await run("sheets", "readonly", (store) => store.get(key));
  return found?.user === user ? found : undefined;
}

/** Keep a sheet that is new here. */
export async function addSheet(sheet) {
  await run("sheets", "readwrite", (store) => store.put(sheet));
  return sheet;
}

/** Have `change(sheet)` change the sheet `key` and keep it; return it, undefined if it is gone. */
export async function changeSheet(key, change) {
  let sheet;
  await run("sheets", "readwrite", (store) => {
    const asked = store.get(key);
    asked.onsuccess = () => {
      sheet = asked.result;
      if (!sheet) return;
      change(sheet);
      store.put(sheet);
    };
  });
  return sheet;
}

/** Forget a sheet and its photos. */
export async function dropSheet(key) {
  for (const photo of await photosOf(key)) await run("photos", "readwrite", (store) => store.delete(photo.key));
  await run("sheets", "readwrite", (store) => store.delete(key));
}

/** Keep a photo: {key, sheet, blob}. */
export async function addPhoto(photo) {
  await run("photos", "readwrite", (store) => store.put(photo));
}

/** Return the photos of a sheet that are on this phone. */
export function photosOf(sheet) {
  return run("photos", "readonly", (store) => store.index("sheet").getAll(sheet));
}

/** Return the keys of the photos on this phone that belong to `sheet` and the site lacks. */
export function photosToSend(sheet) {
  const belongs = (key) => sheet.content.photo_keys.includes(key) && !sheet.photosSent.includes(key);
  return sheet.photosHere.filter(belongs);
}

/** Return whether the site lacks anything of `sheet`. */
export function isUnsent(sheet) {
  return sheet.revision > sheet.sent || photosToSend(sheet).length > 0;
}

/**
 * Leave nothing of `user` at hand but what the site does not have yet: that must not be lost,
 * and is shown to nobody else.
 */
export async function leave(user) {
  for (const sheet of await sheetsOf(user)) if (!isUnsent(sheet)) await dropSheet(sheet.key);
  await forgetPage();
}

/** Forget the page that opens without a connection: it tells whose it is. */
export async function forgetPage() {
  await caches.delete(KEPT_PAGE);
}
