"use client";

import { useRef } from "react";
import { Mark } from "#app/_components/strip/mark.tsx";
import { pointWords } from "#app/_components/words/point-words.ts";
import { seenAs } from "#app/_components/words/standing-words.ts";
import { noteOf, streamName } from "#app/_components/words/stream-words.ts";
import type { SystemState } from "#contract/views.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { streamData } from "../stream-data.ts";
import { stateStreams } from "./state-streams.ts";
import css from "./system-live.module.css";

/** Since when a state says what it says, as the server found it when the page was made. */
export interface Since {
  readonly stream: number;
  readonly since: number;
  readonly longer: boolean;
}

/** Follows the words while the page is open: a state that changes stands since the reading that changed it. */
function useSince(system: SystemState, first: readonly Since[]): ReadonlyMap<number, Since> {
  const known = useRef(new Map(first.map((one) => [one.stream, one])));
  const words = useRef(new Map<number, string | null>());
  for (const { stream, word, at } of stateStreams(system)) {
    const before = words.current.get(stream);
    if (before !== undefined && before !== word && at !== null) {
      known.current.set(stream, { stream, since: at, longer: false });
    }
    words.current.set(stream, word);
  }
  return known.current;
}

/** Pumps, floats, mains, lamps ...: words with since when, on one line where there is room. */
export function Equipment({
  system,
  since: first,
  clock,
  now,
}: {
  readonly system: SystemState;
  readonly since: readonly Since[];
  readonly clock: ZoneClock;
  readonly now: number;
}) {
  const since = useSince(system, first);
  const states = stateStreams(system);
  if (states.length === 0) return null;
  return (
    <section aria-label="Equipment and contacts" className={css.states}>
      <ul>
        {states.map((s) => {
          const seen = seenAs(s);
          const note = noteOf(s, system.findings, clock, now);
          const from = since.get(s.stream);
          const when =
            from === undefined
              ? ""
              : from.longer
                ? `since before ${clock.day(from.since)}`
                : `since ${clock.near(from.since, now)}`;
          return (
            <li key={s.stream} className={css[seen]} {...streamData(system.system, s)}>
              {seen === "calm" ? null : <Mark seen={seen} />}
              {streamName(s)} <b>{seen === "unknown" ? "not known" : pointWords(s.word ?? "")}</b>
              <small>{note !== "" ? note : when}</small>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
