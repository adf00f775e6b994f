"use client";

import { lazy, Suspense, useCallback, useEffect, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { Top } from "#app/_components/frame/top.tsx";
import { read } from "#app/_components/live/send.ts";
import { StatusLine } from "#app/_components/live/status-line.tsx";
import { useLive } from "#app/_components/live/use-live.ts";
import type { LogAnswer, LogEntryView, LogView } from "#contract/log.ts";
import type { SystemsView } from "#contract/views.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { LOG_RANGES, type LogChoice, type LogFilter, logQueryOf } from "./log-choices.ts";
import type { LogStart } from "./log-form.tsx";
import { LogList, StillOpen } from "./log-list.tsx";
import { LogQuick } from "./log-quick.tsx";
import css from "./logbook.module.css";

const LogForm = lazy(() => import("./log-form.tsx").then((part) => ({ default: part.LogForm })));
const CloseEntry = lazy(() => import("./log-changes.tsx").then((part) => ({ default: part.CloseEntry })));
const CorrectEntry = lazy(() => import("./log-changes.tsx").then((part) => ({ default: part.CorrectEntry })));

export interface LogbookProps {
  readonly initial: SystemsView;
  readonly rejected: number | null;
  readonly log: LogView;
  readonly open: readonly LogEntryView[];
  readonly filter: LogFilter;
  readonly kinds: readonly LogChoice[];
  readonly may: boolean;
  /** What a link asks to begin an entry with. */
  readonly start: LogStart | null;
}

type LogQuery =
  | { readonly what: "add"; readonly start: LogStart }
  | { readonly what: "close" | "correct"; readonly entry: LogEntryView }
  | null;

const EMPTY: LogStart = { kind: "", system: "", alarm: "" };
const AGAIN_MS = 60_000;

/** The entries in range and what still goes on; read again after each change, and each minute where nobody is reading further down. */
function useLogbook(first: LogView, firstOpen: readonly LogEntryView[], filter: LogFilter) {
  const [log, setLog] = useState(first);
  const [open, setOpen] = useState(firstOpen);
  const [failed, setFailed] = useState("");
  const refresh = useCallback(async () => {
    const query = new URLSearchParams(
      Object.entries(logQueryOf(filter, Date.now())).map(([key, value]) => [key, String(value)]),
    );
    const [list, going] = await Promise.all([
      read<LogView>(`/log-entries?${query}`),
      read<LogView>("/log-entries?open=true"),
    ]);
    if (list.ok) setLog(list.value);
    if (going.ok) setOpen(going.value.entries);
    setFailed(list.ok ? "" : list.says);
  }, [filter]);
  useEffect(() => {
    const timer = setInterval(() => {
      if (window.scrollY < 200 && document.querySelector("dialog[open]") === null) void refresh();
    }, AGAIN_MS);
    return () => clearInterval(timer);
  }, [refresh]);
  return { log, open, failed, refresh };
}

function Filters({
  filter,
  kinds,
  systems,
}: {
  readonly filter: LogFilter;
  readonly kinds: readonly LogChoice[];
  readonly systems: SystemsView["systems"];
}) {
  // A form of the browser: what is chosen is in the URL, and works before any script has run.
  return (
    <form method="get" action="/logbook" className={`${css.filters} no-print`} aria-label="Filter the list">
      <Field label="System">
        {(links) => (
          <select
            {...links}
            name="system"
            defaultValue={filter.system}
            onChange={(event) => event.target.form?.requestSubmit()}
          >
            <option value="">All systems</option>
            {systems.map(({ system, name }) => (
              <option key={system} value={system}>
                {name}
              </option>
            ))}
          </select>
        )}
      </Field>
      <Field label="Kind">
        {(links) => (
          <select
            {...links}
            name="kind"
            defaultValue={filter.kind}
            onChange={(event) => event.target.form?.requestSubmit()}
          >
            <option value="">All kinds</option>
            {kinds.map(({ id, label }) => (
              <option key={id} value={id}>
                {label}
              </option>
            ))}
          </select>
        )}
      </Field>
      <Field label="Range">
        {(links) => (
          <select
            {...links}
            name="range"
            defaultValue={filter.range}
            onChange={(event) => event.target.form?.requestSubmit()}
          >
            {LOG_RANGES.map(({ id, label }) => (
              <option key={id} value={id}>
                {label}
              </option>
            ))}
          </select>
        )}
      </Field>
      <noscript>
        <button type="submit">Show</button>
      </noscript>
    </form>
  );
}

function Empty({ filter }: { readonly filter: LogFilter }) {
  const isFiltered = filter.system !== "" || filter.kind !== "";
  return (
    <p className={css.empty}>
      No entries in this range{isFiltered ? " for the filter above" : ""}. Log what is done to the water here:
      feeds, water changes, backwashes, dosing. Each entry is marked on the charts of its systems.
    </p>
  );
}

/** What people did, by day; added, ended and corrected in place. */
export function LogbookLive({
  initial,
  rejected,
  log: first,
  open: firstOpen,
  filter,
  kinds,
  may,
  start,
}: LogbookProps) {
  const live = useLive(initial, rejected);
  const { log, open, failed, refresh } = useLogbook(first, firstOpen, filter);
  const clock = clockOf(live.view.zone);
  const [asked, setAsked] = useState<LogQuery>(start === null ? null : { what: "add", start });
  const [done, setDone] = useState("");
  const systems = [...live.view.systems].sort((a, b) => a.name.localeCompare(b.name, "en"));
  const n = log.entries.length;
  const saved = (verb: string) => (answer: LogAnswer) => {
    const { entry } = answer;
    setDone(`${verb}: ${entry.kindLabel}, ${entry.systems.map(({ name }) => name).join(", ")}.`);
    setAsked(null);
    void refresh();
  };
  const acts = may
    ? {
        onClose: (entry: LogEntryView) => setAsked({ what: "close", entry }),
        onCorrect: (entry: LogEntryView) => setAsked({ what: "correct", entry }),
      }
    : null;
  const shared = { clock, now: live.now, onClose: () => setAsked(null) };
  return (
    <>
      <Top here="logbook">
        <StatusLine live={live} />
      </Top>
      <main id="main" className={css.page}>
        <div className={css.title}>
          <h1>Logbook</h1>
          <p>
            {n} {n === 1 ? "entry" : "entries"} since {clock.dayClock(log.from)}, {clock.name(log.from)}
          </p>
          {may && (
            <Button
              kind="main"
              onClick={() =>
                setAsked({ what: "add", start: { ...EMPTY, system: filter.system, kind: filter.kind } })
              }
            >
              Add an entry
            </Button>
          )}
        </div>
        <p className={css.done} role="status">
          {done}
        </p>
        {failed !== "" && (
          <p className={css.wrong} role="alert">
            The logbook could not be updated. {failed}
          </p>
        )}
        {may && <LogQuick kinds={kinds} systems={systems} onDone={saved("Saved")} />}
        <StillOpen entries={open} clock={clock} now={live.now} acts={acts} />
        <Filters filter={filter} kinds={kinds} systems={systems} />
        {n === 0 ? <Empty filter={filter} /> : <LogList entries={log.entries} clock={clock} acts={acts} />}
        {log.more && (
          <p className={css.empty}>
            There are older entries in this range: choose a system or a kind to see them.
          </p>
        )}
      </main>
      <Suspense fallback={null}>
        {asked?.what === "add" && (
          <LogForm {...shared} start={asked.start} kinds={kinds} systems={systems} onDone={saved("Saved")} />
        )}
        {asked?.what === "close" && <CloseEntry {...shared} entry={asked.entry} onDone={saved("Ended")} />}
        {asked?.what === "correct" && (
          <CorrectEntry
            {...shared}
            entry={asked.entry}
            kinds={kinds}
            systems={systems}
            onDone={saved("Corrected")}
          />
        )}
      </Suspense>
    </>
  );
}
