import assert from "node:assert/strict";
import { afterEach, test } from "node:test";
import { Linter } from "eslint";
import { _, ngettext } from "../../training/static/js/say.js";
import words from "./marked.mjs";

afterEach(() => {
  delete globalThis.gettext;
  delete globalThis.ngettext;
});

test("without a catalog it is English", () => {
  assert.equal(_("Saved at %(time)s", { time: "3:05 p.m." }), "Saved at 3:05 p.m.");
  assert.equal(ngettext("%(count)s sheet", "%(count)s sheets", 1), "1 sheet");
  assert.equal(ngettext("%(count)s sheet", "%(count)s sheets", 0), "0 sheets");
});

test("with one it is the language of the page, its holes in any order", () => {
  globalThis.gettext = (text) => ({ "%(a)s of %(b)s": "%(b)s: %(a)s" })[text] ?? text;
  globalThis.ngettext = (one, many, count) => (count > 1 ? "viele %(count)s" : "ein");
  assert.equal(_("%(a)s of %(b)s", { a: 1, b: 2 }), "2: 1");
  assert.equal(ngettext("%(count)s sheet", "%(count)s sheets", 3), "viele 3");
});

test("what is typed goes into a hole as it is", () => {
  assert.equal(_("“%(said)s” %(hint)s", { said: "$& %(hint)s", hint: "x" }), "“$& %(hint)s” x");
  assert.equal(_("%(nobody)s"), "%(nobody)s");
});

function found(script) {
  const config = { plugins: { words }, rules: { "words/marked": "error" } };
  return new Linter().verify(script, config).length;
}

test("what people read and is not marked is found", () => {
  for (const script of [
    'told.textContent = "Saved";',
    'told.textContent = "saved";',
    'button.setAttribute("aria-label", "close");',
    'const state = isSent ? "Sent and saved." : "";',
    "tell(`Not sent: ${problem}`);",
    'const KEPT = "It is still here.";',
    "_(`Saved at ${time}.`);",
    'ngettext(one, "many", 2);',
    '_("Saved at %(time)s", { moment });',
    'ngettext("%(count)s of %(all)s", "%(count)s of %(all)s", 2);',
    'make("button", "", { "aria-label": "remove" });',
  ]) {
    assert.equal(found(script), 1, script);
  }
});

test("what the machine alone reads is not", () => {
  for (const script of [
    'told.textContent = _("Saved");',
    '_("Saved at %(time)s", { time: clock() });',
    'ngettext("%(count)s of %(all)s", "%(count)s of %(all)s", 2, { all });',
    'element.className = "button button-quiet check-wide";',
    'if (event.key === "Enter") go();',
    'const PAGE = "check sheet page";',
    'throw new Error("no picture");',
    'document.querySelectorAll("h2, p, li, [data-draft]");',
    'const keys = { Home: 1, "Page up": 2 };',
  ]) {
    assert.equal(found(script), 0, script);
  }
});
