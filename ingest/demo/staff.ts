/** The invented people of the scenario, as actors of the services: what they may do follows from what they are. */
import type { Actor } from "#services/deps.ts";

/** Everybody of the scenario writes records; the curator holds the wider role. */
export function staff(name: string): Actor {
  const role = name === "curator" ? "curator" : "technician";
  return {
    id: `demo-${name.toLowerCase().replace(/[^a-z0-9]+/g, "-")}`,
    name,
    kind: "person",
    grants: [{ role, site: null, system: null }],
    mustChange: false,
  };
}
