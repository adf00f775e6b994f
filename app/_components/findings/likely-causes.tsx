import type { CauseView, IncidentView } from "#contract/incidents.ts";
import { durationText } from "#core/time/duration-text.ts";
import { MINUTE } from "#core/time/instant.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import css from "./incidents.module.css";

function actWords(minutes: number): string {
  if (minutes >= 1_440) return "within a day";
  return `within ${durationText(minutes * MINUTE)}`;
}

function Cause({ cause }: { readonly cause: CauseView }) {
  return (
    <li data-cause={cause.id}>
      <p>
        <b>{cause.label}</b>
        {cause.isFailure ? `, act ${actWords(cause.actWithinMinutes)}` : ""}
      </p>
      {cause.for.length > 0 && <p>For it: {cause.for.join("; ")}.</p>}
      {cause.against.length > 0 && <p>Against it: {cause.against.join("; ")}.</p>}
      {cause.notMeasured.length > 0 && <p>Not measured: {cause.notMeasured.join("; ")}.</p>}
      <p>
        Check first: {cause.checkFirst}.{" "}
        {cause.caution !== null && <span className={css.caution}>{cause.caution}</span>}
      </p>
    </li>
  );
}

/** What may be behind an incident, with its grounds; never certain, and every finding of it stays where it is. */
export function LikelyCauses({
  incident,
  finding,
  clock,
  now,
}: {
  readonly incident: IncidentView;
  /** The one it is shown beside. */
  readonly finding: string;
  readonly clock: ZoneClock;
  readonly now: number;
}) {
  const { causes, members, estimates } = incident;
  const first = members[0];
  const [best] = causes;
  return (
    <details className={css.causes} data-incident={incident.id}>
      <summary>
        {best ? `Likely: ${best.label}` : "No known cause fits"}
        {causes.length > 1 && `, or ${causes.length - 1} more`}
      </summary>
      <p>
        Guesses from the measurements; none is certain.
        {first && members.length > 1 && (
          <>
            {" "}
            {members.length} findings began together;{" "}
            {first.finding === finding
              ? "this one came first."
              : `first, ${clock.near(first.began, now)}: ${first.systemName}, ${first.says}.`}
          </>
        )}
      </p>
      {estimates.map((estimate) => (
        <p key={estimate.says}>
          <b>{estimate.says}</b> {estimate.assumes}
        </p>
      ))}
      <ol>
        {causes.map((cause) => (
          <Cause key={cause.id} cause={cause} />
        ))}
      </ol>
    </details>
  );
}
