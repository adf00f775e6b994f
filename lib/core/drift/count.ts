/** Counts of animals, one beside the next. */

/** So many are counted one by one; of more the count itself may be off by a share of them. Common practice, no source. */
const ONE_BY_ONE = 50;
const SHARE = 0.1;

/** How far a count may lie from the one before it (both not below 0) and still be the same animals: 0 where they are counted one by one. */
export const miscount = (before: number): number => (before <= ONE_BY_ONE ? 0 : SHARE * before);
