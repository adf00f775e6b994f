/** Who may do what. Pure: an actor's grants and the place asked about are arguments. */

/** Roles as they are granted, from the least; administrator stands beside the others, not above them. */
export const ROLES = ["viewer", "aquarist", "technician", "curator", "administrator"] as const;
export type Role = (typeof ROLES)[number];

/** A role for everything, for one site or for one system; ids, not short names. */
export interface Grant {
  readonly role: Role;
  readonly site: string | null;
  readonly system: string | null;
}

/** Where something is done: a system with its site, a site alone, or neither (what belongs to no place). */
export interface Place {
  readonly site: string | null;
  readonly system: string | null;
}
export const EVERYWHERE: Place = { site: null, system: null };

const AQUARIST = ["read", "record-bench", "write-log", "acknowledge"] as const;
const TECHNICIAN = [
  ...AQUARIST,
  "sign-handover",
  "change-stream",
  "send-readings",
  "calibrate",
  "place-readings",
  "read-health",
] as const;
const CURATOR = [
  ...TECHNICIAN,
  "change-band",
  "change-habitat",
  "change-system",
  "read-audit",
  "import-readings",
] as const;
const ADMINISTRATOR = [
  "read",
  "change-stream",
  "change-system",
  "read-audit",
  "manage-people",
  "manage-tokens",
  "read-health",
] as const;

/**
 * What each role may do. An administrator sees to people, tokens and set-up and cannot write records: who can make accounts cannot
 * also make results. Somebody who must do both holds two roles. Source: our own rule, after separation of duties (NIST SP 800-53 AC-5).
 */
export const MAY = {
  viewer: ["read"],
  aquarist: AQUARIST,
  technician: TECHNICIAN,
  curator: CURATOR,
  administrator: ADMINISTRATOR,
} as const satisfies Record<Role, readonly string[]>;

export type Right = (typeof MAY)[Role][number];
export const RIGHTS: readonly Right[] = [...new Set(Object.values(MAY).flat())];

/** What rights let people do, for messages: "may not <words>". */
export const RIGHT_WORDS: Readonly<Record<Right, string>> = {
  read: "see this",
  "record-bench": "record bench tests",
  "write-log": "write in the logbook",
  acknowledge: "acknowledge alarms",
  "sign-handover": "sign a handover",
  "change-stream": "change the settings of a stream",
  "send-readings": "send readings",
  "import-readings": "import history from files",
  calibrate: "record calibrations",
  "place-readings": "place readings at a corrected time",
  "change-band": "change target bands",
  "change-habitat": "change residents, profiles and compromises",
  "change-system": "change systems and points",
  "read-audit": "read the audit trail",
  "read-health": "see the health of Homewater",
  "manage-people": "manage people",
  "manage-tokens": "manage tokens",
};

const reaches = (grant: Grant, place: Place): boolean =>
  (grant.site === null && grant.system === null) ||
  (grant.system !== null ? grant.system === place.system : grant.site === place.site);

/**
 * Whether these grants give a right at a place. A grant without site and system reaches everything; one for a site reaches its systems; one
 * for a system only that system. At no place in particular (EVERYWHERE) only a grant for everything counts.
 */
export function may(grants: readonly Grant[], right: Right, place: Place): boolean {
  return grants.some((grant) => mayRole(grant.role, right) && reaches(grant, place));
}

/** Whether these grants give a right at any place at all: for what is filtered by place afterwards. */
export function mayAnywhere(grants: readonly Grant[], right: Right): boolean {
  return grants.some((grant) => mayRole(grant.role, right));
}

/** Whether a role has a right, wherever it is granted. */
export function mayRole(role: Role, right: Right): boolean {
  return (MAY[role] as readonly Right[]).includes(right);
}
