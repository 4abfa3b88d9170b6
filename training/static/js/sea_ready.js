/*
 * Takes along, at one tap, all that a person can use without signal, and frees the phone of it.
 *
 * The worker of the site fetches and keeps each part; here it is asked for them and told of.
 */

import { person } from "./outbox.js";
import { _, ngettext } from "./say.js";
import { ask, isAble } from "./sea_ask.js";
import { showUnsent } from "./sea_unsent.js";
import { countWords, keptList, momentWords } from "./sea_words.js";
import { NotNow, PATIENCE, post, SignedOut } from "./sending.js";

const AT_ONCE = 3; // parts under way at the same time
const NEW_WORKER = 60000; // milliseconds that a new version of the site has to arrive

const WHY = {
  "no answer": () => _("no signal"),
  error: () => _("the site answered with an error"),
  gone: () => _("the site does not have it any more"),
  "no room": () => _("this phone has no room for it"),
  "signed out": () => _("you are signed out, or somebody else is signed in"),
  "new version": () => _("the site has a newer version: load this page again"),
};

/** Return once another worker is in charge: that of the version which the site has now. */
function newWorker() {
  return new Promise((resolve) => {
    navigator.serviceWorker.addEventListener("controllerchange", resolve, { once: true });
    setTimeout(resolve, NEW_WORKER);
  });
}

class Ready {
  constructor(root) {
    this.root = root;
    this.take = this.find("take");
    this.take.addEventListener("click", () => this.taking());
    this.find("free").addEventListener("click", () => this.freeing());
    document.addEventListener("noted", () => showUnsent(person()));
  }

  find(name) {
    return this.root.querySelector(`[data-${name}]`);
  }

  /** Show what is on this phone. A full one could not note how far it was `taken` along just now. */
  async show(taken = null) {
    this.find("able").hidden = false;
    const told = await ask({ ask: "list" });
    told.taken = taken ?? told.taken;
    const kept = told.person === person() ? told.kept : [];
    const named = kept.filter((each) => each.what);
    this.find("state").textContent = this.stateWords(kept, named, told.taken);
    this.find("free").hidden = !kept.length;
    this.find("kept").replaceChildren(...keptList(named));
    this.showFailed(taken || kept.length ? (told.taken?.failed ?? []) : []);
    await this.showPersist();
    await showUnsent(person());
  }

  /** Return in words how far this phone is ready: of half-taken things it says so. */
  stateWords(kept, named, taken) {
    if (!named.length) return _("Nothing is taken along on this phone.");
    const counts = countWords(kept);
    if (!taken) return _("Not everything is taken along. On this phone: %(counts)s.", { counts });
    const missing = taken.asked - taken.done;
    const moment = momentWords(taken.at);
    if (missing) {
      const words = ngettext(
        "Half taken along on %(moment)s: %(count)s page is missing. On this phone: %(counts)s.",
        "Half taken along on %(moment)s: %(count)s pages are missing. On this phone: %(counts)s.",
        missing,
        { moment, counts },
      );
      return words;
    }
    return _("Ready for sea: %(counts)s. Taken along: %(moment)s", { counts, moment });
  }

  showFailed(failed) {
    this.find("failed").hidden = !failed.length;
    this.find("failed-list").replaceChildren(
      ...failed.map(({ title, why }) => {
        const item = document.createElement("li");
        item.textContent = `${title}: ${WHY[why]?.() ?? why}`;
        return item;
      }),
    );
  }

  async showPersist() {
    const isSafe = await navigator.storage?.persisted?.();
    this.find("persist").textContent = isSafe
      ? _("This phone keeps it until you free it.")
      : _("This phone may clear it away when it runs out of room. Install the site to make that less likely.");
  }

  // Taking along

  async taking() {
    this.take.disabled = true;
    this.showFailed([]);
    this.find("state").textContent = _("Asking the site what to take along …");
    try {
      await navigator.storage?.persist?.();
      await this.setTasks();
      const list = await this.list();
      await this.show(await this.takeAll(list));
    } catch (error) {
      if (error instanceof SignedOut) window.location.assign(this.root.dataset.signIn);
      else if (!(error instanceof NotNow || error instanceof TypeError) && error.name !== "TimeoutError") throw error;
      this.find("state").textContent = _("Not taken along: the site cannot be reached. What was on this phone before is still there.");
    } finally {
      this.find("progress").hidden = true;
      this.take.disabled = false;
    }
  }

  /** Have the site set the tasks for sea; those that are not answered yet stay as they are. */
  async setTasks() {
    const response = await post(this.root.dataset.set, new FormData(this.find("setting")));
    if (!response.ok) throw new NotNow(response.status);
  }

  async list() {
    const signal = AbortSignal.timeout(PATIENCE);
    const response = await fetch(this.root.dataset.list, { redirect: "manual", signal });
    if (response.type === "opaqueredirect") window.location.assign(this.root.dataset.signIn);
    if (!response.ok) throw new TypeError(String(response.status));
    return response.json();
  }

  async takeAll({ parts, token }) {
    const progress = this.find("progress");
    [progress.hidden, progress.max, progress.value] = [false, parts.length, 0];
    const failed = [];
    const taken = (done) => ({ asked: parts.length, done, failed, at: Date.now() });
    await ask({ ask: "taken", person: person(), taken: taken(0), token });
    const waiting = [...parts];
    const work = async () => {
      for (let part = waiting.shift(); part; part = waiting.shift()) {
        const { kept, why } = await this.keep(part);
        if (!kept) failed.push({ title: part.title, why });
        progress.value += 1;
        this.find("state").textContent = _("Taking along %(done)s of %(all)s: %(title)s", {
          done: progress.value,
          all: parts.length,
          title: part.title,
        });
      }
    };
    await Promise.all(Array.from({ length: AT_ONCE }, work));
    if (!failed.length) await ask({ ask: "only", person: person(), addresses: parts.map(({ address }) => address) });
    const done = taken(parts.length - failed.length);
    await ask({ ask: "taken", person: person(), taken: done, token });
    return done;
  }

  /** Have the worker keep `part`; where the site has another version, the worker of that one. */
  async keep(part) {
    const question = { ask: "keep", person: person(), part };
    const changed = newWorker();
    const said = await ask(question);
    if (said.why !== "new version") return said;
    await changed;
    return ask(question);
  }

  // Freeing

  async freeing() {
    await ask({ ask: "free", person: person() });
    await this.show();
  }
}

const root = document.querySelector("[data-ready]");
if (isAble()) new Ready(root).show();
else {
  root.querySelector("[data-unable]").hidden = false;
  showUnsent(person());
}
