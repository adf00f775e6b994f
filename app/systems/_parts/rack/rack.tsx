"use client";

import { memo, useMemo, useRef } from "react";
import { classes } from "#app/_components/controls/classes.ts";
import { Mark } from "#app/_components/strip/mark.tsx";
import { floorOf, stripScale } from "#app/_components/strip/strip-geometry.ts";
import { volumeWords } from "#app/_components/words/number-words.ts";
import { pointWords } from "#app/_components/words/point-words.ts";
import { SEEN_WORD, STANDING_WORD, seenAs } from "#app/_components/words/standing-words.ts";
import { findingOf, noteOf, streamName } from "#app/_components/words/stream-words.ts";
import type { StreamState, SystemState } from "#contract/views.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { withUnit } from "#core/units/number-text.ts";
import { streamData } from "../stream-data.ts";
import css from "./rack.module.css";
import { Cell, type Edges } from "./rack-cell.tsx";
import { elsewhere, RACK_COLUMNS, type RackCell, rackCell } from "./rack-columns.ts";
import type { RackGroup } from "./rack-groups.ts";
import { useEdges } from "./use-edges.ts";

/** All marks of a calm system side by side: on a phone its one line. A dot is a quantity without a probe. */
function Fingerprint({ cells }: { cells: readonly (RackCell | null)[] }) {
  const marks = cells.map((cell, i) => {
    const x = 4 + i * 14;
    const main = cell?.main.band ? cell.main : (cell?.with ?? cell?.main);
    const scale = main?.band ? stripScale(main.band, floorOf(main.quantity)) : null;
    if (main?.value == null || scale === null) return `M${x + 4.5} 11h1`;
    const y = 11 - Math.max(-1, Math.min(1, scale.position(main.value))) * 9;
    return `M${x} ${Math.round(y * 10) / 10}h10`;
  });
  return (
    <svg className={css.fingerprint} viewBox="0 0 132 22" aria-hidden="true">
      <rect x="0" y="6.5" width="132" height="9" />
      <path d={marks.join("")} />
    </svg>
  );
}

interface HeadProps {
  readonly system: SystemState;
  readonly cells: readonly (RackCell | null)[];
  readonly clock: ZoneClock;
  readonly now: number;
}

function newest(s: StreamState): string {
  // What was read last is no news of now where it is not known.
  if (seenAs(s) === "unknown") return "";
  if (s.word !== null) return `${pointWords(s.word)} `;
  return s.value === null ? "" : `${withUnit(s.value, s.decimals, s.unitLabel)} `;
}

/** With the hour today, otherwise the day alone: there the hour is no news. */
function sinceWords(began: number | undefined, clock: ZoneClock, now: number): string {
  if (began === undefined) return "";
  return `since ${clock.day(began) === clock.day(now) ? clock.clock(began) : clock.day(began)}`;
}

function Elsewhere({ system, cells, clock, now }: HeadProps) {
  const found = elsewhere(system, cells);
  if (found.length === 0) return null;
  return (
    <ul className={css.elsewhere}>
      {found.slice(0, 3).map((s) => (
        <li key={s.stream} className={css[seenAs(s)]} {...streamData(system.system, s)}>
          <Mark seen={seenAs(s)} />
          <span>
            <span className="unseen">{SEEN_WORD[seenAs(s)]}: </span>
            {streamName(s)} {newest(s)}
            {seenAs(s) === "unknown" || seenAs(s) === "doubtful"
              ? noteOf(s, system.findings, clock, now) || SEEN_WORD[seenAs(s)]
              : sinceWords(findingOf(s, system.findings)?.began, clock, now)}
          </span>
        </li>
      ))}
      {found.length > 3 && <li>and {found.length - 3} more</li>}
    </ul>
  );
}

function RowHead({ system, cells, clock, now }: HeadProps) {
  const place = [system.volume > 0 ? volumeWords(system.volume) : "", system.kind].filter((t) => t !== "");
  return (
    <>
      <span className={css.name}>
        <Mark seen={system.standing} />
        <a href={`/systems/${encodeURIComponent(system.system)}`}>{system.name}</a>
      </span>
      <span className={css.place}>{place.join(" · ")}</span>
      <span className={classes(css.standing, css[system.standing])}>{STANDING_WORD[system.standing]}</span>
      {system.notes?.map(({ says }) => (
        <span key={says} className={css.place}>
          {says}
        </span>
      ))}
      <Elsewhere system={system} cells={cells} clock={clock} now={now} />
    </>
  );
}

/** One system. Drawn again only when its own state changed or a minute has gone by. */
const Row = memo(function Row({
  id,
  system,
  clock,
  minute,
  edges,
}: {
  readonly id: string;
  readonly system: SystemState;
  readonly clock: ZoneClock;
  readonly minute: number;
  readonly edges: Edges;
}) {
  const cells = useMemo(() => RACK_COLUMNS.map((column) => rackCell(system, column)), [system]);
  const now = minute * 60_000;
  const calm = cells.filter((cell) => cell !== null && seenAs(cell.worst) === "calm").length;
  return (
    <tr
      className={css[`row-${system.standing}`]}
      data-row={id}
      data-system-row={system.system}
      data-standing={system.standing}
    >
      <th scope="row">
        <RowHead system={system} cells={cells} clock={clock} now={now} />
        {system.standing === "calm" && <Fingerprint cells={cells} />}
      </th>
      {RACK_COLUMNS.map((column, i) => {
        const cell = cells[i] ?? null;
        const state = cell === null ? undefined : css[`cell-${seenAs(cell.worst)}`];
        return (
          <td key={column.id} className={state}>
            <span className={css.cellLabel}>
              {column.label}
              {cell !== null && cell.main.unitLabel !== "" && <small>{cell.main.unitLabel}</small>}
            </span>
            {cell === null ? (
              <span className={css.noProbe}>no probe</span>
            ) : (
              <Cell system={system} column={column} cell={cell} clock={clock} now={now} edges={edges} />
            )}
          </td>
        );
      })}
      {system.standing !== "calm" && calm > 0 && (
        <td className={css.rest}>
          {calm} other {calm === 1 ? "quantity" : "quantities"} in band
        </td>
      )}
    </tr>
  );
});

/** Systems × quantities, in parts; the same table is laid out as cards on a phone. */
export function Rack({
  groups,
  clock,
  minute,
}: {
  readonly groups: readonly RackGroup[];
  readonly clock: ZoneClock;
  readonly minute: number;
}) {
  const table = useRef<HTMLTableElement>(null);
  const { opened, isWall } = useEdges(table);
  return (
    <table className={css.rack} ref={table}>
      <caption className="unseen">Systems and their quantities, worst first</caption>
      <thead>
        <tr>
          <th scope="col">
            Worst first
            <small>by status, then deviation</small>
          </th>
          {RACK_COLUMNS.map((column) => (
            <th key={column.id} scope="col">
              {column.label}
              <small>{column.unit}</small>
            </th>
          ))}
        </tr>
      </thead>
      {groups.map((group) => (
        <tbody key={group.id} data-group={group.id}>
          {group.title !== "" && (
            <tr className={css.group}>
              <th scope="rowgroup" colSpan={RACK_COLUMNS.length + 1}>
                {group.title}{" "}
                <small>
                  {group.systems.length} {group.systems.length === 1 ? "system" : "systems"}
                </small>
              </th>
            </tr>
          )}
          {group.systems.map((system) => {
            const id = `${group.id}/${system.system}`;
            const edges = isWall ? "wall" : opened === id ? "all" : "none";
            return <Row key={id} id={id} system={system} clock={clock} minute={minute} edges={edges} />;
          })}
        </tbody>
      ))}
    </table>
  );
}
