/* What the site's scripts are held to. The paths are those of the project's top folder. */

import js from "@eslint/js";
import globals from "globals";

import words from "./marked.mjs";

const SCRIPTS = "training/static/js/**/*.js";
const TESTS = "tests/javascript/**/*.{js,mjs}";

export default [
  js.configs.recommended,
  {
    rules: {
      "no-control-regex": "off", // what a keyboard or a paste brings is read too
      "array-callback-return": "error",
      eqeqeq: "error",
      "no-implicit-coercion": "error",
      "no-shadow": "error",
      "no-unused-expressions": ["error", { allowShortCircuit: true }],
      "no-unused-vars": ["error", { args: "after-used", ignoreRestSiblings: true }],
      "no-use-before-define": ["error", { functions: false, classes: false }],
      "no-var": "error",
      "object-shorthand": "error",
      "prefer-const": "error",
      "prefer-template": "error",
    },
  },
  {
    files: [SCRIPTS],
    ignores: ["**/say.js"],
    plugins: { words },
    rules: { "words/marked": "error" },
  },
  { files: [SCRIPTS], languageOptions: { globals: globals.browser } },
  { files: [TESTS], languageOptions: { globals: { ...globals.browser, ...globals.node } } },
];
