/*
 * What came of what was sent, until its writer had the time to read it.
 *
 * Who opens another page in that moment may get one that the site made before the form arrived,
 * while the page on which it is told goes. The next page of the same tab tells it again.
 */

const NAME = "unread";
const READING = 5000; // milliseconds that it takes to read what is told

function stored() {
  try {
    return JSON.parse(sessionStorage.getItem(NAME)) ?? [];
  } catch {
    return []; // a browser that forbids it: it is told once
  }
}

function store(told) {
  try {
    if (told.length) sessionStorage.setItem(NAME, JSON.stringify(told));
    else sessionStorage.removeItem(NAME);
  } catch {} // eslint-disable-line no-empty
}

/** Note that `said` came of `entry`, and that nobody has read it yet. */
export function keepUnread({ key, label, person }, said) {
  store([...stored().filter((each) => each.entry.key !== key), { entry: { key, label, person }, said }]);
}

/** Return what nobody may have read yet of `owner`, as [{entry, said}]; forget what is of others. */
export function unreadOf(owner) {
  const own = stored().filter(({ entry }) => entry.person === owner);
  store(own);
  return own;
}

/** Forget all of it, as on a page on which nobody is signed in. */
export function forgetUnread() {
  store([]);
}

/** Forget what came of the entry `key` once it has been on a page long enough to be read. */
export function forgetOnceRead(key) {
  setTimeout(() => store(stored().filter(({ entry }) => entry.key !== key)), READING);
}
