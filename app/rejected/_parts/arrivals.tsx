import type { ArrivalsView } from "#contract/arrivals.ts";
import { durationText } from "#core/time/duration-text.ts";
import type { clockOf } from "#core/time/zone-clock.ts";
import css from "./rejected.module.css";

function clockWords({ skew, clock }: ArrivalsView["sources"][number]): string {
  if (skew === null || clock === null) return "not known (imported data)";
  const off = `${durationText(Math.abs(skew))} ${skew < 0 ? "ahead" : "behind"}`;
  if (clock === "good") return `good, ${off}`;
  return `${clock === "M" ? "M, needs attention" : "F, failed"}: ${off}`;
}

/** How readings came: senders with their clocks and the numbers that are missing, then the streams that are not complete. */
export function Arrivals({
  arrivals,
  clock,
}: {
  readonly arrivals: ArrivalsView;
  readonly clock: ReturnType<typeof clockOf>;
}) {
  const lacking = arrivals.streams.filter(
    (stream) => stream.missingNumbers > 0 || (stream.share !== null && stream.share < 1),
  );
  const names = new Map(
    arrivals.streams.map((stream) => [stream.stream, `${stream.system} ${stream.point} ${stream.quantity}`]),
  );
  return (
    <>
      <h2>Senders, last 24 hours</h2>
      <p className={css.about}>
        A sender’s clock is checked with the messages that took least time to arrive. Off by more than 30 s:
        needs attention (M). Off by more than 5 min: failed (F). Missing numbers are gaps in the sender’s own
        sequence numbers; a late message fills its gap.
      </p>
      {arrivals.sources.length === 0 ? (
        <p>Nothing has arrived.</p>
      ) : (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard (WCAG 2.2, 2.1.1)
        <section className={css.scroll} tabIndex={0} aria-label="Senders">
          <table className={css.table}>
            <thead>
              <tr>
                <th scope="col">Sender</th>
                <th scope="col">Readings</th>
                <th scope="col">Latest, by its clock</th>
                <th scope="col">Clock</th>
                <th scope="col">Longest delay</th>
                <th scope="col">Missing numbers</th>
              </tr>
            </thead>
            <tbody>
              {arrivals.sources.map((source) => (
                <tr key={source.source}>
                  <td className={css.code}>{source.source}</td>
                  <td className={css.count}>{source.readings}</td>
                  <td>{clock.full(source.last)}</td>
                  <td>{clockWords(source)}</td>
                  <td>{source.longestDelay === null ? "" : durationText(source.longestDelay)}</td>
                  <td>
                    {source.sequence === null ? (
                      "no sequence numbers sent"
                    ) : source.sequence.missing === 0 ? (
                      "none"
                    ) : (
                      <>
                        {source.sequence.missing} in {source.sequence.gaps.length}{" "}
                        {source.sequence.gaps.length === 1 ? "gap" : "gaps"}
                        <ul className={css.gaps}>
                          {source.sequence.gaps.slice(0, 5).map((gap) => (
                            <li key={`${gap.stream} ${gap.after} ${gap.from}`}>
                              {gap.missing === 1
                                ? `${gap.after + 1}`
                                : `${gap.after + 1} to ${gap.before - 1}`}
                              {gap.stream === null ? "" : ` of ${names.get(gap.stream) ?? "a stream"}`},{" "}
                              {clock.full(gap.from)} to {clock.full(gap.to)}
                            </li>
                          ))}
                        </ul>
                      </>
                    )}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
      {arrivals.suspects.length > 0 && (
        <p>
          {arrivals.suspects.length === 1 ? "One stream has" : `${arrivals.suspects.length} streams have`}{" "}
          sent implausible times (more than 2 min ahead of receipt, or 30 days behind). Those readings are
          kept and marked, and never shown as current. The latest is from{" "}
          {names.get(arrivals.suspects.at(-1)?.stream ?? 0) ?? "a stream"}.
        </p>
      )}
      <h2>Incomplete streams, last 24 hours</h2>
      {lacking.length === 0 ? (
        <p>Every stream with an expected interval is complete.</p>
      ) : (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard (WCAG 2.2, 2.1.1)
        <section className={css.scroll} tabIndex={0} aria-label="Incomplete streams">
          <table className={css.table}>
            <thead>
              <tr>
                <th scope="col">Stream</th>
                <th scope="col">Readings</th>
                <th scope="col">Expected</th>
                <th scope="col">Complete</th>
                <th scope="col">Missing numbers</th>
              </tr>
            </thead>
            <tbody>
              {lacking.map((stream) => (
                <tr key={stream.stream}>
                  <td>
                    {stream.system} {stream.point} {stream.quantity}
                  </td>
                  <td className={css.count}>{stream.readings}</td>
                  <td className={css.count}>{stream.expected ?? "not set"}</td>
                  <td className={css.count}>
                    {stream.share === null ? "" : `${Math.floor(stream.share * 100)} %`}
                  </td>
                  <td className={css.count}>{stream.missingNumbers}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
    </>
  );
}
