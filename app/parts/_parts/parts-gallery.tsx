"use client";

import { type ReactNode, useMemo, useState } from "react";
import { Button, ButtonLink } from "#app/_components/controls/button.tsx";
import { Dialog } from "#app/_components/controls/dialog.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { chartData } from "#app/_components/drawing/chart-data.ts";
import { GROUNDS } from "#app/_components/frame/ground-script.ts";
import type { Sent } from "#app/_components/live/send.ts";
import { Mark } from "#app/_components/strip/mark.tsx";
import { Strip } from "#app/_components/strip/strip.tsx";
import { StripEdges } from "#app/_components/strip/strip-edges.tsx";
import { SEEN_WORD, type SeenAs, seenAs } from "#app/_components/words/standing-words.ts";
import { stripSentence } from "#app/_components/words/stream-words.ts";
import { BandPreview } from "#app/set-up/_parts/bands/band-preview.tsx";
import { ChangeNote } from "#app/set-up/_parts/change-note.tsx";
import { Unanswered } from "#app/set-up/_parts/unanswered.tsx";
import { Chart } from "#app/systems/_parts/chart/chart.tsx";
import { ChartTable } from "#app/systems/_parts/chart/chart-table.tsx";
import { TimeLane } from "#app/systems/_parts/lane/time-lane.tsx";
import { Rack } from "#app/systems/_parts/rack/rack.tsx";
import { byLoop, byStanding } from "#app/systems/_parts/rack/rack-groups.ts";
import { Equipment } from "#app/systems/_parts/system/equipment.tsx";
import { OpenFindings } from "#app/systems/_parts/system/open-findings.tsx";
import { clockOf } from "#core/time/zone-clock.ts";
import css from "./parts-gallery.module.css";
import { BARS, BENCH, FINDINGS, HOUR, MARKS, NOW, OTHER, SERIES, STRIPS, SYSTEMS } from "./samples.ts";

const SEEN: readonly SeenAs[] = ["calm", "look", "action", "unknown", "doubtful"];
const COLOURS = [
  "paper",
  "sheet",
  "shade",
  "ink",
  "ink-soft",
  "ink-faint",
  "rule",
  "line",
  "band",
  "band-edge",
  "limit",
  "sweep",
  "mark",
  "look",
  "look-ground",
  "act",
  "act-ground",
  "doubt",
  "doubt-ground",
  "link",
  "focus",
  "changed",
];
const clock = clockOf("Europe/London");
const nothing = () => {};

const refused = (status: number, why: "offline" | "refused" | "sign-in", says: string): Sent<never> => ({
  ok: false,
  why,
  says,
  status,
  issues: [],
});
const ANSWERS: readonly (readonly [string, Sent<never> | null])[] = [
  ["loading", null],
  [
    "offline",
    refused(0, "offline", "No connection to Homewater. Nothing is lost: what you typed stays here."),
  ],
  ["signed out", refused(401, "sign-in", "You are signed out. Sign in again; what you typed stays here.")],
  ["not allowed", refused(403, "refused", "Test viewer may not manage people.")],
  ["failed", refused(503, "refused", "The store does not answer. Nothing was stored.")],
];

function Part({
  name,
  file,
  children,
}: {
  readonly name: string;
  readonly file: string;
  readonly children: ReactNode;
}) {
  return (
    <section className={css.part} aria-label={name}>
      <h3>
        {name} <code>{file}</code>
      </h3>
      {children}
    </section>
  );
}

function Controls() {
  const [isOpen, setOpen] = useState(false);
  return (
    <>
      <Part name="Button" file="button.tsx">
        <p className={css.row}>
          <Button kind="main">The one thing to do</Button>
          <Button>Another</Button>
          <Button kind="bare">looks like a link</Button>
          <ButtonLink href="#parts">A link</ButtonLink>
          <Button busy>Sending ...</Button>
          <Button disabled>Not now</Button>
        </p>
      </Part>
      <Part name="Field" file="field.tsx">
        <div className={css.columns}>
          <Field label="Plain">{(links) => <input {...links} defaultValue="8.05" />}</Field>
          <Field label="With a hint" hint="As it will appear in records">
            {(links) => <input {...links} placeholder="" />}
          </Field>
          <Field label="Wrong" wrong="action limit 16 must be above the high edge 16.2">
            {(links) => <input {...links} defaultValue="16" />}
          </Field>
          <Field label="A choice">
            {(links) => (
              <select {...links}>
                <option>display</option>
                <option>sump</option>
              </select>
            )}
          </Field>
          <Field label="Longer text">{(links) => <textarea {...links} />}</Field>
          <Field label="Read-only">
            {(links) => <input {...links} defaultValue="temperature" disabled />}
          </Field>
        </div>
      </Part>
      <Part name="Dialog" file="dialog.tsx">
        <p>
          <Button onClick={() => setOpen(true)}>Open</Button>
        </p>
        {isOpen && (
          <Dialog title="A dialog" onClose={() => setOpen(false)}>
            <p>It holds the focus; Escape closes it and the focus goes back.</p>
          </Dialog>
        )}
      </Part>
      <Part name="After a change" file="set-up/change-note.tsx">
        <ChangeNote
          change={{
            says: "Band of pH set.",
            answer: { change: 1, undoable: true, subject: "band:1", received: NOW },
          }}
          onUndone={nothing}
          onClose={nothing}
        />
      </Part>
      <Part name="No answer" file="set-up/unanswered.tsx">
        <div className={css.columns}>
          {ANSWERS.map(([name, answer]) => (
            <div key={name}>
              <small>{name}</small>
              <Unanswered answer={answer} what="what is set up" onAgain={nothing} />
            </div>
          ))}
        </div>
      </Part>
    </>
  );
}

function Strips() {
  return (
    <Part name="Strip" file="strip.tsx, strip-edges.tsx">
      <ul className={css.strips}>
        {STRIPS.map(([name, stream]) => (
          <li key={name} title={stripSentence(stream)}>
            <small>
              {name}: {SEEN_WORD[seenAs(stream)]}
            </small>
            <Strip stream={stream} />
            <StripEdges stream={stream} limits />
          </li>
        ))}
      </ul>
    </Part>
  );
}

function Charts() {
  const span = useMemo(() => ({ from: NOW - 72 * HOUR, to: NOW }), []);
  const [cursor, setCursor] = useState("");
  const scene = useMemo(
    () => ({
      data: chartData(SERIES, BENCH),
      bands: SERIES.bands,
      decimals: 1,
      seen: "action" as const,
      endsNow: true,
      marks: MARKS,
      watched: BARS,
      other: { label: "Kelp Gallery", data: chartData(OTHER, null) },
    }),
    [],
  );
  const empty = useMemo(
    () => ({
      data: chartData(null, null),
      bands: SERIES.bands,
      decimals: 1,
      seen: "unknown" as const,
      endsNow: true,
    }),
    [],
  );
  const shared = { span, clock, onSpan: nothing, onFailure: (failure: Error) => setCursor(failure.message) };
  return (
    <>
      <Part name="Time axis with the logbook" file="time-lane.tsx">
        <TimeLane span={span} clock={clock} marks={MARKS} bars={BARS} failed="" />
      </Part>
      <Part name="Chart" file="chart.tsx">
        <Chart
          {...shared}
          label="Chart with everything"
          scene={scene}
          onCursor={(words) => setCursor(words ?? "")}
        />
        <p className={css.cursor}>{cursor}</p>
        <Chart
          {...shared}
          label="Chart without readings"
          scene={empty}
          height={6}
          hasTimeAxis={false}
          onCursor={nothing}
        />
      </Part>
      <Part name="Table of a chart" file="chart-table.tsx">
        <ChartTable label="Temperature" unitLabel="°C" decimals={1} data={scene.data} clock={clock} />
      </Part>
    </>
  );
}

/** Every shared part in every state, on the three grounds one below the other. */
export function PartsGallery() {
  return (
    <>
      {GROUNDS.map((ground) => (
        <div key={ground} data-ground={ground} className={css.ground}>
          <h2>Theme: {ground}</h2>
          <Part name="Colours" file="tokens.css">
            <ul className={css.colours}>
              {COLOURS.map((name) => (
                <li key={name}>
                  <span style={{ background: `var(--${name})` }} />
                  {name}
                </li>
              ))}
            </ul>
          </Part>
          <Part name="Marks" file="strip.tsx">
            <p className={css.row}>
              {SEEN.map((seen) => (
                <span key={seen} className={css.row}>
                  <Mark seen={seen} /> {SEEN_WORD[seen]}
                </span>
              ))}
            </p>
          </Part>
          <Strips />
          <Controls />
          <Part name="Findings" file="open-findings.tsx">
            <OpenFindings findings={FINDINGS} clock={clock} now={NOW} mayAcknowledge={false} />
          </Part>
          <Part name="Equipment" file="equipment.tsx">
            {SYSTEMS.slice(0, 1).map((system) => (
              <Equipment
                key={system.system}
                system={system}
                since={[{ stream: 23, since: NOW - 40 * HOUR, longer: false }]}
                clock={clock}
                now={NOW}
              />
            ))}
          </Part>
          <Part name="What a band would change" file="set-up/band-preview.tsx">
            <BandPreview
              streams={STRIPS.slice(0, 1).map(([, stream]) => stream)}
              months={[
                { low: 13, high: 15, actionLow: 11, actionHigh: 15.5, urgentLow: null, urgentHigh: null },
              ]}
              now={NOW}
              zone="Europe/London"
            />
          </Part>
          <Charts />
          <Part name="Rack, worst first" file="rack.tsx">
            <Rack groups={byStanding(SYSTEMS, new Map())} clock={clock} minute={Math.floor(NOW / 60_000)} />
          </Part>
          <Part name="Rack, by loop" file="rack.tsx, rack-groups.ts">
            <Rack groups={byLoop(SYSTEMS.slice(0, 1))} clock={clock} minute={Math.floor(NOW / 60_000)} />
          </Part>
        </div>
      ))}
    </>
  );
}
