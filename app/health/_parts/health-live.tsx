"use client";

import { useEffect, useState } from "react";
import { read, type Sent } from "#app/_components/live/send.ts";
import type { HealthView } from "#contract/answers.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { countText } from "#core/units/figures-text.ts";
import css from "./health.module.css";

const AGAIN_MS = 15_000;
type Upkeep = NonNullable<HealthView["upkeep"]>;
type State = Upkeep["items"][number]["state"];

/** Shape and word beside each colour: none of them says it alone. */
const STATES: Readonly<Record<State, { readonly word: string; readonly sign: string }>> = {
  act: { word: "act now", sign: "▲" },
  look: { word: "check", sign: "◆" },
  unknown: { word: "not known", sign: "?" },
  good: { word: "OK", sign: "–" },
};

function headline(items: Upkeep["items"]): string {
  const wrong = items.filter((item) => item.state === "act").length;
  const look = items.filter((item) => item.state === "look").length;
  const things = (count: number) => (count === 1 ? "One thing needs" : `${count} things need`);
  if (wrong > 0) return `${things(wrong)} action now.`;
  if (look > 0) return `${things(look)} checking; everything else is OK.`;
  return "Everything that is known is OK.";
}

const mebi = (bytes: number) => `${countText(Math.round(bytes / 1_048_576))} MiB`;

/** What is wrong with Homewater itself, since when, what to do; asked again every quarter minute. What was known stays when the connection is gone. */
export function HealthLive({ initial, zone }: { readonly initial: HealthView; readonly zone: string }) {
  const [health, setHealth] = useState(initial);
  const [failed, setFailed] = useState<Sent<unknown> | null>(null);
  useEffect(() => {
    const timer = setInterval(() => {
      read<HealthView>("/health").then((sent) => {
        setFailed(sent.ok ? null : sent);
        if (sent.ok) setHealth(sent.value);
      }, console.error);
    }, AGAIN_MS);
    return () => clearInterval(timer);
  }, []);
  const { detail, upkeep } = health;
  if (!detail || !upkeep) return <p>Health is no longer shown to you. Sign in again.</p>;
  const clock = clockOf(zone);
  return (
    <>
      <p className={css.head} role="status">
        {headline(upkeep.items)} <small>As of {clock.full(detail.now)}.</small>
      </p>
      {failed && !failed.ok && (
        <p className={css.act} role="alert">
          {failed.why === "offline" ? "No connection to Homewater: what is shown here is old." : failed.says}
        </p>
      )}
      <ul className={css.items}>
        {upkeep.items.map((item) => (
          <li key={item.id} data-item={item.id} data-state={item.state}>
            <h2>{item.label}</h2>
            <p className={css[item.state]}>
              <span aria-hidden="true">{STATES[item.state].sign}</span> {STATES[item.state].word}
              {item.since !== null && <small> since {clock.full(item.since)}</small>}
            </p>
            <p>
              {item.says}
              {item.remedy !== "" && <b> {item.remedy}</b>}
            </p>
          </li>
        ))}
      </ul>
      <section aria-labelledby="figures">
        <h2 id="figures">Figures</h2>
        <dl className={css.facts}>
          {(
            [
              ["Store", `${detail.dialect === "sqlite" ? "SQLite" : "PostgreSQL"}, schema ${health.schema}`],
              ["Location", detail.where],
              ["Version", health.version],
              ["Readings", countText(detail.counts.readings)],
              ["Commits", countText(detail.journal?.seq ?? 0)],
              ["Duplicates ignored", countText(detail.counts.duplicates)],
              ["Conflicting values", countText(detail.counts.conflicts)],
              ["Rejected messages", countText(detail.counts.rejected)],
              ["Database", upkeep.databaseBytes === null ? "on a server" : mebi(upkeep.databaseBytes)],
              [
                "Disk free",
                upkeep.disk === null
                  ? "not known"
                  : `${mebi(upkeep.disk.free)} of ${mebi(upkeep.disk.total)}`,
              ],
              [
                "Last verified backup",
                upkeep.backups.good === null ? "none" : clock.full(upkeep.backups.good.began),
              ],
              ...upkeep.processes.map(
                (one) =>
                  [
                    `Process ${one.name}`,
                    `${mebi(one.memory)} memory on ${one.host}, running since ${clock.full(one.started)}, last report ${clock.full(one.at)}`,
                  ] as const,
              ),
            ] as const
          ).map(([name, says]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{says}</dd>
            </div>
          ))}
        </dl>
        <p className={css.soft}>
          For programs: <code>GET /api/v1/health</code> with a token, and <code>/metrics</code>. On the
          server: <code>npm run doctor</code>.
        </p>
      </section>
    </>
  );
}
