"use client";

import { ageText } from "#core/time/age-text.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import css from "./status-line.module.css";
import type { Live } from "./use-live.ts";

/** A stream that has said nothing for this long is called dead, whatever the socket believes. */
const DEAD_MS = 60_000;

function connectionWords(live: Live): { text: string; isWell: boolean } {
  const last = `last update ${clockOf(live.view.zone).near(live.heard, live.now)}`;
  if (live.connection === "reconnecting") return { text: `reconnecting, ${last}`, isWell: false };
  if (live.now - live.heard > DEAD_MS) return { text: `no live data, ${last}`, isWell: false };
  return live.connection === "live" ? { text: "live", isWell: true } : { text: "connecting", isWell: true };
}

function Oldest({ live }: { live: Live }) {
  const oldest = live.view.oldest;
  if (oldest === null) return null;
  const system = live.view.systems.find((s) => s.system === oldest.system);
  const stream = system?.streams.find((s) => s.quantity === oldest.quantity);
  const what = labelInSentence(stream?.label ?? oldest.quantity);
  return (
    <>
      oldest reading {ageText(live.now - oldest.at)} ago, {system?.name ?? oldest.system} {what}
    </>
  );
}

/** Site, time with its zone, oldest reading, connection, and what was turned away. */
export function StatusLine({ live }: { live: Live }) {
  const clock = clockOf(live.view.zone);
  const connection = connectionWords(live);
  return (
    <>
      <p className={css.line}>
        {live.view.siteName}
        {" · "}
        <time dateTime={new Date(live.now).toISOString()} title={live.view.zone} suppressHydrationWarning>
          {clock.full(live.now)}
        </time>
      </p>
      <p className={`${css.line} ${css.state}`}>
        <Oldest live={live} />
        {live.view.oldest !== null && " · "}
        <span
          className={connection.isWell ? undefined : css.lost}
          role="status"
          data-connection={connection.text.split(",")[0]}
        >
          {connection.text}
        </span>
        {live.rejected !== null && live.rejected > 0 && (
          <>
            {" · "}
            <a href="/rejected">
              {live.rejected} {live.rejected === 1 ? "message" : "messages"} rejected
            </a>
          </>
        )}
      </p>
    </>
  );
}
