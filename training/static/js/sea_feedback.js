/*
 * What is told of an answer at sea: opened with its key, and put on the page.
 *
 * The pieces were rendered by the site and came sealed with the task. Whatever was entered is put
 * into them as text.
 */

import { made } from "./elements.js";
import { points, told } from "./foretold.js";
import { _, ngettext } from "./say.js";

export const ANSWERED = "sea task"; // the outbox's kind of what was answered on this phone

const INFO = "feedback on a task";
const NONCE = 12; // bytes, before what is sealed

function bytes(text) {
  return Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0));
}

/** Return the values that the text `sealed` holds; throw if they cannot be opened here. */
export async function opened(sealed, secret) {
  const { subtle } = globalThis.crypto;
  const base = await subtle.importKey("raw", bytes(secret), "HKDF", false, ["deriveKey"]);
  const by = { name: "HKDF", hash: "SHA-256", salt: new Uint8Array(), info: new TextEncoder().encode(INFO) };
  const key = await subtle.deriveKey(by, base, { name: "AES-GCM", length: 256 }, false, ["decrypt"]);
  const all = bytes(sealed);
  const packed = await subtle.decrypt({ name: "AES-GCM", iv: all.slice(0, NONCE) }, key, all.slice(NONCE));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).json();
}

/** Return what is told of the answer `values`: pieces, whether it passes, points. */
export function feedback(known, values, lengths) {
  const found = told(known.parts, values, lengths);
  return { ...found, ...points(found.pieces) };
}

const SIGNS = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };

/** Return HTML with what was entered in its holes. */
export function filled(html, values) {
  const given = new Map(values);
  return html.replace(/%\((\w+)\)s/g, (hole, name) =>
    given.has(name) ? given.get(name).replace(/[&<>"']/g, (sign) => SIGNS[sign]) : hole,
  );
}

/** Return the nodes of HTML that the site made. */
function nodes(html) {
  return [...new DOMParser().parseFromString(html, "text/html").body.childNodes];
}

function list(lines, values) {
  const box = made("ul", "", "finding-list");
  box.append(...lines.flatMap((line) => nodes(filled(line.html, values))));
  return box;
}

function score({ marks, outOf, passed }) {
  const words = ngettext("%(marks)s of %(count)s point", "%(marks)s of %(count)s points", outOf, { marks });
  const meter = made("meter", "", "meter");
  Object.assign(meter, { min: 0, max: outOf, value: marks, ariaLabel: _("Points") });
  const verdict = passed
    ? made("p", _("Passed."), "notice notice-good")
    : made("p", _("Not passed yet. Read what went wrong below."), "notice notice-bad");
  return [made("p", words, "score"), meter, verdict];
}

function right(lines, values, isOpen) {
  const box = made("details");
  box.open = isOpen;
  const words = ngettext("%(count)s point right", "%(count)s points right", lines.length);
  box.append(made("summary", words), list(lines, values));
  return box;
}

function pictures(known) {
  const box = made("div", "", "pictures");
  box.append(...known.pictures.flatMap(nodes));
  return box;
}

/** Return the nodes that tell of the answer `values`, in the order of the site's own page. */
export function rendered(known, found, values) {
  const lines = found.pieces.flatMap((each) => each.lines);
  const wrong = lines.filter((line) => !line.right);
  const good = lines.filter((line) => line.right);
  const remarks = found.pieces.flatMap((each) => each.remarks);
  return [
    ...score(found),
    ...remarks.map((words) => made("p", words, "notice")),
    ...(known.pictures.length ? [pictures(known)] : []),
    made("h2", _("Point by point")),
    ...(wrong.length ? [list(wrong, values)] : []),
    ...(good.length ? [right(good, values, !wrong.length)] : []),
    ...found.pieces.flatMap((each) => nodes(each.table)),
    ...(known.more ? [made("p", _("The site tells you more once it has this answer."), "form-text")] : []),
  ];
}
