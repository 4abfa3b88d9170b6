/*
 * What a check sheet holds, as the phone and the site pass it to and fro.
 *
 * A sheet from before some of it was asked has the empty value there.
 */

import { _ } from "./say.js";

const CODE_SIGNS = "ABCDEFGHJKMNPQRSTUVWXYZ23456789"; // no two that look alike
const CODE_LENGTH = 12;

const HEAD = {
  vessel_number: "", permit: "", skipper: "", tape: "", witness: "", started: "", ended: "", wet: "", net: "",
};

function empty() {
  return {
    vessel_name: "",
    harbor: "",
    position: "",
    at_sea: false,
    day: "",
    rulebook_name: "",
    fishery_name: "",
    head: { ...HEAD },
    boarding: "",
    typed: {},
    readings: [],
    reasons: {},
    notes: "",
    photo_keys: [],
    photo_lines: {},
    signatures: [],
    code: "",
  };
}

/** Return `content` with an empty value for all that it lacks. */
export function whole(content) {
  return { ...empty(), ...content, head: { ...HEAD, ...content.head } };
}

/** Return a code that nobody guesses, by which a skipper comes to the copy: about 59 bits. */
function newCode() {
  let code = "";
  while (code.length < CODE_LENGTH) {
    const [number] = crypto.getRandomValues(new Uint8Array(1));
    // Numbers past the last full round would make the first signs likelier.
    if (number < 256 - (256 % CODE_SIGNS.length)) code += CODE_SIGNS[number % CODE_SIGNS.length];
  }
  return code;
}

/** Return the content of a new sheet with `told` at its head. */
export function begun(told) {
  return whole({ boarding: crypto.randomUUID(), code: newCode(), ...told });
}

/** Return what follows "Net 1": the name of the next net on the same vessel. */
export function nextNet(name) {
  const found = /^(.*?)(\d+)\s*$/.exec(name);
  return found ? `${found[1]}${Number(found[2]) + 1}` : _("Net 2");
}

/** Return the content of a sheet on another net of the vessel of `content`, on the same boarding. */
export function onAnotherNet(content) {
  const { vessel_name, harbor, position, at_sea, day, rulebook_name, fishery_name, boarding } = content;
  const head = { ...content.head, net: nextNet(content.head.net), started: "", ended: "" };
  const told = { vessel_name, harbor, position, at_sea, day, rulebook_name, fishery_name, head };
  return begun(boarding ? { ...told, boarding } : told);
}
