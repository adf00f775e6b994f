"use client";

import { LikelyCauses } from "#app/_components/findings/likely-causes.tsx";
import { useAnswer } from "#app/_components/live/use-answer.ts";
import type { IncidentsView } from "#contract/incidents.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";

/** What may be behind the open findings of a system, read when it is wanted; says nothing where nothing can be read. */
export function CausesLater({
  system,
  open,
  clock,
  now,
}: {
  readonly system: string;
  readonly open: readonly string[];
  readonly clock: ZoneClock;
  readonly now: number;
}) {
  const { answer } = useAnswer<IncidentsView>(`/incidents?system=${encodeURIComponent(system)}`);
  if (answer === null) return null;
  if (!answer.ok) return <p role="status">Likely causes could not be loaded. {answer.says}</p>;
  const incidents = answer.value.incidents.filter((incident) =>
    incident.members.some((member) => open.includes(member.finding)),
  );
  return incidents.map((incident) => (
    <LikelyCauses
      key={incident.id}
      incident={incident}
      finding={incident.members.find((member) => open.includes(member.finding))?.finding ?? ""}
      clock={clock}
      now={now}
    />
  ));
}
