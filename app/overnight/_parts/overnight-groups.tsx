"use client";

import type { ReactNode } from "react";
import { classes } from "#app/_components/controls/classes.ts";
import type { Span } from "#app/_components/drawing/chart-data.ts";
import type { LogMark } from "#app/_components/drawing/log-marks.ts";
import css from "#app/_components/findings/overnight.module.css";
import { Mark } from "#app/_components/strip/mark.tsx";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { IncidentView } from "#contract/incidents.ts";
import type { NightItem, OvernightView, StreamState, SystemState } from "#contract/views.ts";
import { traitsOf } from "#core/alarms/kinds.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import { reachedPercent } from "#core/units/share-text.ts";
import { OvernightItem } from "./overnight-item.tsx";
import { COMPLETE, GROUP_TITLES, incomplete } from "./overnight-words.ts";
import { isUnanswered, type Shown } from "./use-night.ts";

export interface NightProps {
  readonly night: OvernightView;
  readonly shown: ReadonlyMap<string, Shown>;
  /** The systems as they are now; empty on a frozen copy. */
  readonly systems: readonly SystemState[];
  readonly marks: readonly LogMark[];
  /** What to look at first: by finding from its likeliest cause, by system from a log entry that should be closed. */
  readonly checkFirst: ReadonlyMap<string, string>;
  /** By finding; none on a frozen copy. */
  readonly incidents: ReadonlyMap<string, IncidentView>;
  readonly clock: ZoneClock;
  readonly now: number;
  readonly isPrinting: boolean;
  /** "all night" or, where another range was asked for, "throughout". */
  readonly calmFor: string;
  /** Asks about these, which nobody has acknowledged. */
  readonly onAcknowledge: ((shown: readonly Shown[]) => void) | null;
  readonly mayLog: boolean;
}

const isAsking = ({ finding }: Shown): boolean => isUnanswered(finding);

function Item({
  props,
  item,
  group,
  span,
}: {
  readonly props: NightProps;
  readonly item: NightItem;
  readonly group: OvernightView["groups"][number]["group"];
  readonly span: Span;
}) {
  const shown = props.shown.get(item.finding);
  if (shown === undefined) return null;
  const { finding } = shown;
  const system = props.systems.find((row) => row.system === finding.system);
  const stream: StreamState | undefined = system?.streams.find(
    (row) => row.quantity === finding.quantity && row.point === finding.point,
  );
  const others = (item.others ?? []).flatMap(({ finding: id, left }) => {
    const other = props.shown.get(id);
    return other ? [{ shown: other, left }] : [];
  });
  const { onAcknowledge } = props;
  return (
    <OvernightItem
      shown={shown}
      item={item}
      group={group}
      stream={stream ?? null}
      others={others}
      marks={props.marks.filter((mark) => mark.systems.includes(finding.system))}
      checkFirst={props.checkFirst.get(finding.system) ?? props.checkFirst.get(finding.id) ?? ""}
      incident={props.incidents.get(finding.id) ?? null}
      span={span}
      clock={props.clock}
      now={props.now}
      isPrinting={props.isPrinting}
      onAcknowledge={
        onAcknowledge === null
          ? null
          : () => onAcknowledge([shown, ...others.map((other) => other.shown)].filter(isAsking))
      }
      mayLog={props.mayLog}
    />
  );
}

/** Streams that are not known and have no finding of their own that says so. */
function unsaid(night: OvernightView): OvernightView["unknown"] {
  const told = new Set(
    night.findings
      .filter((finding) => traitsOf(finding).isNotKnown && finding.ended === null)
      .map((finding) => `${finding.system}/${finding.quantity}`),
  );
  return night.unknown.filter((row) => !told.has(`${row.system}/${row.quantity}`));
}

function Unknown({ night, clock }: { readonly night: OvernightView; readonly clock: ZoneClock }) {
  const rows = unsaid(night);
  return rows.map((row) => (
    <li key={`${row.system}/${row.quantity}`} className={classes(css.item, css.doubtful)}>
      <Mark seen="doubtful" />
      <div className={css.told}>
        <p className={css.line}>
          <a href={`/systems/${encodeURIComponent(row.system)}`} className={css.system}>
            {night.names[row.system] ?? row.system}
          </a>
          <span className={css.tag}>not known</span>
        </p>
        <p className={css.says}>
          {night.labels[row.quantity] ?? row.quantity} not known: {row.why}
        </p>
        {row.since !== null && <p className={css.when}>last reading {clock.near(row.since, night.to)}</p>}
      </div>
    </li>
  ));
}

/** Streams of one system that fell silent: from this many on they are shown as one. */
const TOGETHER = 3;
const NAMED = 4;

/** Items in their order; the silent ones of a system stand together at the place of the first where there are several. */
export function bundles(items: readonly NightItem[], shown: ReadonlyMap<string, Shown>): NightItem[][] {
  const silent = new Map<string, NightItem[]>();
  const out: NightItem[][] = [];
  for (const item of items) {
    const finding = shown.get(item.finding)?.finding;
    if (finding === undefined || !traitsOf(finding).isNotKnown) {
      out.push([item]);
      continue;
    }
    const had = silent.get(finding.system);
    if (had !== undefined) {
      had.push(item);
      continue;
    }
    const bundle = [item];
    silent.set(finding.system, bundle);
    out.push(bundle);
  }
  return out.flatMap((bundle) => (bundle.length < TOGETHER ? bundle.map((item) => [item]) : [bundle]));
}

/** A gateway or a cable: many streams of a system silent at once are one thing to read, and each can still be opened and answered. */
function SilentTogether({
  props,
  bundle,
  children,
}: {
  readonly props: NightProps;
  readonly bundle: readonly NightItem[];
  readonly children: ReactNode;
}) {
  const findings = bundle.flatMap((item) => props.shown.get(item.finding)?.finding ?? []);
  const [first] = findings;
  if (first === undefined) return null;
  const unanswered = findings.filter(isUnanswered).length;
  const since = Math.min(...findings.map((finding) => finding.began));
  const names = [...new Set(findings.map((finding) => labelInSentence(finding.quantityLabel)))];
  const more = names.length - NAMED;
  return (
    <li className={classes(css.item, css.doubtful)} data-silent-together={findings.length}>
      <Mark seen="doubtful" />
      <div className={css.told}>
        <p className={css.line}>
          <a href={`/systems/${encodeURIComponent(first.system)}`} className={css.system}>
            {first.systemName}
          </a>
          <span className={css.tag}>not known</span>
          {unanswered > 0 && <span className={css.unanswered}>{unanswered} not acknowledged</span>}
        </p>
        <p className={css.says}>
          {findings.length} streams silent since {props.clock.near(since, props.now)}:{" "}
          {names.slice(0, NAMED).join(", ")}
          {more > 0 && ` and ${more} more`}
        </p>
        <details className={css.each}>
          <summary>Show each</summary>
          <ul className={css.items}>{children}</ul>
        </details>
      </div>
    </li>
  );
}

/** What no finding says and the standing of a system does not show. */
function Notes({ night }: { readonly night: OvernightView }) {
  const { notes = [] } = night;
  if (notes.length === 0) return null;
  return (
    <section className={css.group} data-night-group="notes" aria-labelledby="group-notes">
      <h2 id="group-notes">To know beside the findings</h2>
      <ul className={css.passes}>
        {notes.map(({ system, says }) => (
          <li key={`${system}/${says}`}>
            <a href={`/systems/${encodeURIComponent(system)}`}>{night.names[system] ?? system}</a>: {says}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Every group of the night in reading order; the calm systems in one line. */
export function OvernightGroups(props: NightProps) {
  const { night, clock } = props;
  const span = { from: night.from, to: night.to };
  const muted = new Set(
    night.notes?.filter(({ kind }) => kind === "alarms muted").map(({ system }) => system),
  );
  const hasUnknown = unsaid(night).length > 0;
  const groups =
    night.groups.some(({ group }) => group === "unknown") || !hasUnknown
      ? night.groups
      : [...night.groups, { group: "unknown" as const, items: [] }].sort(
          (a, b) => Number(a.group === "over") - Number(b.group === "over"),
        );
  return (
    <>
      <Notes night={night} />
      {groups.map(({ group, items }) => (
        <section
          key={group}
          className={css.group}
          data-night-group={group}
          aria-labelledby={`group-${group}`}
        >
          <h2 id={`group-${group}`}>{GROUP_TITLES[group]}</h2>
          <ul className={css.items}>
            {bundles(items, props.shown).map((bundle) =>
              bundle.length === 1 ? (
                bundle.map((item) => (
                  <Item key={item.finding} props={props} item={item} group={group} span={span} />
                ))
              ) : (
                <SilentTogether key={bundle[0]?.finding} props={props} bundle={bundle}>
                  {bundle.map((item) => (
                    <Item key={item.finding} props={props} item={item} group={group} span={span} />
                  ))}
                </SilentTogether>
              ),
            )}
            {group === "unknown" && <Unknown night={night} clock={clock} />}
          </ul>
        </section>
      ))}
      <section className={css.group} data-night-group="calm" aria-labelledby="group-calm">
        <h2 id="group-calm">Calm {props.calmFor}</h2>
        {night.calmAllNight.length === 0 ? (
          <p className={css.calmLine}>No system stayed calm {props.calmFor}.</p>
        ) : (
          <p className={css.calmLine}>
            <Mark seen="calm" />{" "}
            <span>
              {night.calmAllNight.map((code, i) => (
                <span key={code}>
                  {i > 0 && " · "}
                  <a href={`/systems/${encodeURIComponent(code)}`}>{night.names[code] ?? code}</a>
                  {muted.has(code) && " (alarms muted)"}
                </span>
              ))}
            </span>
          </p>
        )}
      </section>
    </>
  );
}

/** Streams that got less than 99 % of their readings, worst first, behind a disclosure. */
export function Completeness({ night }: { readonly night: OvernightView }) {
  const rows = incomplete(night);
  const { share } = night.summary;
  if (share === null) return null;
  return (
    <details className={css.complete}>
      <summary>
        {reachedPercent(share)} of expected readings arrived
        {rows.length > 0 &&
          `; ${rows.length} ${rows.length === 1 ? "stream" : "streams"} below ${COMPLETE * 100} %`}
      </summary>
      {rows.length === 0 ? (
        <p>Every stream with a known interval received at least {COMPLETE * 100} % of its readings.</p>
      ) : (
        <div className={css.scroll}>
          <table>
            <thead>
              <tr>
                <th scope="col">System</th>
                <th scope="col">Stream</th>
                <th scope="col">Received</th>
                <th scope="col">Expected</th>
                <th scope="col">Share</th>
              </tr>
            </thead>
            <tbody>
              {rows.map((row) => (
                <tr key={`${row.system}/${row.point}/${row.quantity}`}>
                  <th scope="row">{night.names[row.system] ?? row.system}</th>
                  <td>
                    {night.labels[row.quantity] ?? row.quantity}
                    {row.point === "display" ? "" : `, ${labelInSentence(pointWords(row.point))}`}
                  </td>
                  <td>{row.got}</td>
                  <td>{row.expected}</td>
                  <td>{reachedPercent(row.share)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </details>
  );
}
