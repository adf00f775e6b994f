import { SUMS, sumView } from "#core/sums/index.ts";
import type { SumsView } from "#core/wire/sum-views.ts";

/** Every sum with what it asks for and what it gives. */
export const listSums = (): SumsView => ({ sums: SUMS.map(sumView) });
