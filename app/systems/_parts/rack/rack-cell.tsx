"use client";

import { lazy, Suspense, useState } from "react";
import { classes } from "#app/_components/controls/classes.ts";
import { Strip } from "#app/_components/strip/strip.tsx";
import { pointWords } from "#app/_components/words/point-words.ts";
import { seenAs } from "#app/_components/words/standing-words.ts";
import { noteOf } from "#app/_components/words/stream-words.ts";
import type { StreamState, SystemState } from "#contract/views.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { numberText } from "#core/units/number-text.ts";
import { streamData } from "../stream-data.ts";
import css from "./rack.module.css";
import type { RackCell, RackColumn } from "./rack-columns.ts";

/** A value; for a moment after it changed it is set off (not where less motion is asked for). */
export function Value({ text }: { text: string }) {
  const [known, setKnown] = useState({ text, changes: 0 });
  if (known.text !== text) setKnown({ text, changes: known.changes + 1 });
  return (
    <b key={known.changes} className={css.value} data-changed={known.changes > 0 ? "" : undefined}>
      {text}
    </b>
  );
}

const plain = (stream: StreamState): string =>
  stream.value === null || seenAs(stream) === "unknown"
    ? "not known"
    : numberText(stream.value, stream.decimals);

function Other({ system, stream, unit }: { system: string; stream: StreamState; unit: string }) {
  return (
    <span className={classes(css.other, css[seenAs(stream)])} {...streamData(system, stream)}>
      {pointWords(stream.point)} <Value text={`${plain(stream)}${unit}`} />
    </span>
  );
}

const StripEdges = lazy(() =>
  import("#app/_components/strip/strip-edges.tsx").then((m) => ({ default: m.StripEdges })),
);

/** Numbers under a strip: none, the band's edges, or the limits too. */
export type Edges = "none" | "wall" | "all";

/** One cell of the rack: value, what is said with it, strip, and a note only where something is not as it should be. */
export function Cell({
  system,
  column,
  cell,
  clock,
  now,
  edges,
}: {
  readonly system: SystemState;
  readonly column: RackColumn;
  readonly cell: RackCell;
  readonly clock: ZoneClock;
  readonly now: number;
  readonly edges: Edges;
}) {
  const { main, beside } = cell;
  const seen = seenAs(cell.worst);
  const note = noteOf(cell.worst, system.findings, clock, now);
  const isUsual = cell.worst === main && (main.point === column.points[0] || column.points.length > 1);
  const prefix =
    cell.worst === cell.with ? "saturation: " : isUsual ? "" : `${pointWords(cell.worst.point)}: `;
  // Oxygen is often judged in percent only: then the strip is that of the percent.
  const judged = [main, cell.with].find((s) => s !== null && s.band !== null) ?? null;
  const unit = main.unitLabel === column.unitLabel ? "" : ` ${main.unitLabel}`;
  return (
    <>
      <div className={css.cellMain} {...streamData(system.system, main)}>
        <p className={classes(css.reading, css[seenAs(main)])}>
          <Value text={plain(main)} />
          {unit !== "" && <small>{unit}</small>}
          {beside !== null && (
            <span className={css[seenAs(beside)]} {...streamData(system.system, beside)}>
              {" / "}
              <Value text={plain(beside)} />
            </span>
          )}
          {cell.with !== null && (
            <small className={css[seenAs(cell.with)]} {...streamData(system.system, cell.with)}>
              {" "}
              <Value
                text={seenAs(cell.with) === "unknown" ? "– %" : `${plain(cell.with)} ${cell.with.unitLabel}`}
              />
            </small>
          )}
        </p>
        {judged === null ? (
          <p className={css.noBand}>no target band</p>
        ) : (
          <>
            <Strip stream={judged} beside={beside ?? undefined} />
            {edges !== "none" && (
              <Suspense>
                <StripEdges stream={judged} limits={edges === "all"} />
              </Suspense>
            )}
          </>
        )}
      </div>
      {note !== "" && (
        <p
          className={classes(
            css.note,
            css[
              cell.worst.standing === "action" || cell.worst.standing === "look" ? cell.worst.standing : seen
            ],
          )}
        >
          {prefix}
          {note}
        </p>
      )}
      {cell.others.length > 0 && (
        <p className={css.others}>
          {cell.others.map((other) => (
            <Other key={other.stream} system={system.system} stream={other} unit={unit} />
          ))}
        </p>
      )}
    </>
  );
}
