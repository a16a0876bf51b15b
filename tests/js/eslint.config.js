// Rules for the scripts of the pages and for their tests; run from the project's folder.

import js from "@eslint/js";
import globals from "globals";

const rules = {
  ...js.configs.recommended.rules,
  complexity: ["error", 15],
  "consistent-return": "error",
  curly: ["error", "multi-line"],
  eqeqeq: "error",
  "max-depth": ["error", 3],
  "max-lines": ["error", 420],
  "max-lines-per-function": ["error", 60],
  "no-eval": "error",
  "no-implied-eval": "error",
  "no-param-reassign": "error",
  "no-shadow": "error",
  "no-unused-vars": ["error", { argsIgnorePattern: "^_" }],
  "no-use-before-define": ["error", { functions: false, classes: false, variables: false }],
  "no-var": "error",
  "object-shorthand": "error",
  "prefer-const": "error",
  "prefer-template": "error",
};

export default [
  { linterOptions: { reportUnusedDisableDirectives: "error" } },
  { files: ["alarmlib/widgets/**/*.js"], languageOptions: { sourceType: "module", globals: globals.browser }, rules },
  { files: ["alarmlib/lab/**/*.js"], languageOptions: { sourceType: "module", globals: globals.browser }, rules },
  { files: ["alarmlib/lab/**/remoteEntry.js"], languageOptions: { sourceType: "script" }, rules: { "max-lines-per-function": "off" } },
  { files: ["tests/js/**/*.js"], ignores: ["**/node_modules/**"], languageOptions: { sourceType: "module", globals: globals.node }, rules },
];
