/** Gives tests that import the test library the small one beside this file. */
const SUITE = new URL("./suite.mjs", import.meta.url).href;

export const resolve = (specifier, context, next) =>
  specifier === "vitest" || specifier === "vitest/suite"
    ? { url: SUITE, shortCircuit: true }
    : next(specifier, context);
