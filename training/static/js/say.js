/*
 * Words that people read, in the language of the page.
 *
 * The scripts hold them in English. Where the page is in another language, its catalog is loaded
 * before them and gives the same in that one; gettext finds in the scripts what is to be translated,
 * so a text is always written out where it is marked. Holes are named: %(length)s.
 */

function filled(text, values) {
  return text.replace(/%\((\w+)\)s/g, (hole, name) => (name in values ? String(values[name]) : hole));
}

/** Return `text` in the language of the page, with `values` in its holes. */
export function _(text, values = {}) {
  return filled(globalThis.gettext?.(text) ?? text, values);
}

/** Return the text for `count` of something, %(count)s in it, with `values` in the other holes. */
export function ngettext(one, many, count, values = {}) {
  const text = globalThis.ngettext?.(one, many, count) ?? (count === 1 ? one : many);
  return filled(text, { count, ...values });
}
