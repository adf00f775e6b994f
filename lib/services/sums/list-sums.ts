import type { SumsView } from "#contract/sum-views.ts";
import { SUMS, sumView } from "#core/sums/index.ts";

/** Every sum with what it asks for and what it gives. */
export const listSums = (): SumsView => ({ sums: SUMS.map(sumView) });
