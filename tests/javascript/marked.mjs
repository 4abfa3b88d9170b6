/*
 * An ESLint rule: words that people read are marked for translation, by `_` or `ngettext`.
 *
 * It takes for words what reads like a sentence or begins like one. A name that the machine alone
 * reads is not one: a constant in capitals, a key, what is imported, compared or thrown as a bare
 * Error.
 */

const MARKS = new Set(["_", "ngettext"]);
const SENTENCE = /[a-z][.?!…](?:\s|$)/;
const BEGINNING = /^(?:[A-Z][a-z]+|I)(?=[\s,:.]|$)/;
const WORDS = /(?:^|\s)[A-Za-z]{2,},? [a-z]+ [a-z]{2,}/;
const SINKS = new Set(["textContent", "innerText", "title", "placeholder", "ariaLabel"]);
const ATTRIBUTES = new Set(["aria-label", "aria-valuetext", "title", "placeholder", "alt"]);

function isWords(text) {
  return SENTENCE.test(text) || BEGINNING.test(text) || WORDS.test(text);
}

function nameOf(node) {
  return node.type === "Identifier" ? node.name : (node.property?.name ?? "");
}

/** Whether `node` is for the machine alone, by what it stands in. */
function isName(node) {
  const { parent } = node;
  if (/^(?:Import|Export)/.test(parent.type)) return true;
  if (parent.type === "BinaryExpression") return parent.operator !== "+";
  if (parent.type === "Property" && parent.key === node) return true;
  if (parent.type === "VariableDeclarator") return /^[A-Z_]+$/.test(parent.id.name ?? "") && !SENTENCE.test(node.value);
  if (parent.type === "NewExpression") return parent.callee.name === "Error";
  return parent.type === "CallExpression" && parent.callee.type === "Super";
}

function isMarked(node) {
  const { parent } = node;
  return parent.type === "CallExpression" && MARKS.has(nameOf(parent.callee)) && parent.arguments.includes(node);
}

/** Whether `node` is put where people read it, whatever it looks like. */
function isShown(node) {
  const { parent } = node;
  if (parent.type === "AssignmentExpression" && parent.right === node) return SINKS.has(nameOf(parent.left));
  if (parent.type === "Property" && parent.value === node) return ATTRIBUTES.has(parent.key.value ?? parent.key.name);
  if (parent.type !== "CallExpression" || nameOf(parent.callee) !== "setAttribute") return false;
  return parent.arguments[1] === node && ATTRIBUTES.has(parent.arguments[0].value);
}

/** Return the names of the values that a mark is given, null if they are not written out there. */
function givenTo(call) {
  const isPlural = call.callee.name === "ngettext";
  const values = call.arguments[isPlural ? 3 : 1];
  if (values && values.type !== "ObjectExpression") return null;
  const names = (values?.properties ?? []).map((each) => each.key?.name);
  return new Set(isPlural ? [...names, "count"] : names);
}

const rule = {
  meta: { type: "problem", schema: [] },
  create(context) {
    const check = (node, texts) => {
      const words = texts.filter((text) => /[A-Za-z]{2}/.test(text));
      if (!words.length || isMarked(node) || isName(node)) return;
      if (words.some(isWords) || isShown(node)) {
        context.report({ node, message: "People read this: mark it by _() or ngettext() of say.js." });
      }
    };
    const checkMark = (node) => {
      if (!MARKS.has(nameOf(node.callee)) || node.callee.type !== "Identifier") return;
      const texts = node.arguments.slice(0, node.callee.name === "_" ? 1 : 2);
      for (const each of texts) {
        if (each.type === "Literal" && typeof each.value === "string") continue;
        context.report({ node: each, message: "gettext finds only a text that is written out here." });
      }
      const given = givenTo(node);
      const holes = new Set(texts.flatMap((each) => [...String(each.value).matchAll(/%\((\w+)\)s/g)]).map(([, name]) => name));
      const open = [...holes].filter((name) => given && !given.has(name));
      if (open.length) context.report({ node, message: `Nothing goes into ${open.join(", ")}.` });
    };
    return {
      Literal: (node) => typeof node.value === "string" && check(node, [node.value]),
      TemplateLiteral: (node) => node.parent.type !== "TaggedTemplateExpression" && check(node, node.quasis.map((each) => each.value.cooked)),
      CallExpression: checkMark,
    };
  },
};

export default { rules: { marked: rule } };
