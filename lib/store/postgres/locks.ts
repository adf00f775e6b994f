/** Advisory lock that every writer of this database holds until its commit; any number no other program here uses. */
const WRITERS = 7_283_946;

export const LOCK_WRITERS = `select pg_advisory_xact_lock(${WRITERS})`;

/**
 * Begins a writing transaction in one round trip: alone among writers before a journal position is drawn, so that no row can
 * appear behind a reader's cursor; and the count of commits moved on, which is what `changeMark` reads.
 */
export const BEGIN_WRITING = `begin isolation level read committed; ${LOCK_WRITERS}; update counter set value = value + 1 where name = 'commits'`;
export const BEGIN_MIGRATING = `begin isolation level read committed; ${LOCK_WRITERS}`;
export const BEGIN_LOOKING = "begin isolation level repeatable read read only";
