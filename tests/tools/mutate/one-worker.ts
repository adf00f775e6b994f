/**
 * Test files of one run share a worker and its modules, which is most of the speed. A mutant is switched on before the first test of a
 * file; here it is switched off again while the next file loads, so that a file finds what it would find in a worker of its own.
 */
import { inject } from "vitest";

declare module "vitest" {
  interface ProvidedContext {
    globalNamespace: string;
    mutantActivation: string;
  }
}

const state = (globalThis as unknown as Record<string, { activeMutant?: string } | undefined>)[
  inject("globalNamespace")
];
if (state && inject("mutantActivation") !== "static") delete state.activeMutant;
