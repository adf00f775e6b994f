/**
 * As much of the test library as the tests of equations use, for a process that runs each test hundreds of times: the real `expect`, and
 * tests that are only collected. Names of rows carry their number, so that each test has one of its own.
 */
import {
  customMatchers,
  GLOBAL_EXPECT,
  JestAsymmetricMatchers,
  JestChaiExpect,
  JestExtend,
  setState,
} from "@vitest/expect";
import * as chai from "chai";

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);
globalThis[GLOBAL_EXPECT] = chai.expect;
setState({ assertionCalls: 0, isExpectingAssertions: false, expectedAssertionsNumber: null }, chai.expect);
chai.expect.extend(chai.expect, customMatchers);
export const { expect } = chai;

/** Every test of the files imported so far. */
export const collected = [];
const names = [];
let current;
/** The file that is being imported, as its tests are named after it. */
export const begin = (file) => {
  names.length = 0;
  names.push(file);
};
/** Runs one test; rejects where it fails. */
export async function run(test) {
  current = { meta: {} };
  await test.body();
}
export const getCurrentTest = () => current;

const argumentsOf = (row) => (Array.isArray(row) ? row : [row]);
const withEach = (one) =>
  Object.assign(one, {
    each: (table) => (name, body) => {
      for (const [i, row] of table.entries()) one(`${name} [${i}]`, () => body(...argumentsOf(row)));
    },
  });
export const describe = withEach((name, body) => {
  names.push(name);
  body();
  names.pop();
});
export const test = withEach((name, body) => {
  const id = [...names, name].join(" > ");
  if (collected.some((other) => other.id === id)) throw new Error(`two tests are called ${id}`);
  collected.push({ id, name, file: names[0], body });
});
export const it = test;

/** What is said of types was proven by the compiler. */
export const expectTypeOf = () => {
  const anything = new Proxy(() => anything, { get: () => anything });
  return anything;
};
