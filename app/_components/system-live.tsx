"use client";

import { lazy, Suspense } from "react";
import type { SystemsView } from "../../lib/core/wire/views.ts";
import { classes } from "./classes.ts";
import { Equipment, type Since } from "./equipment.tsx";
import { Mark } from "./mark.tsx";
import { volumeWords } from "./number-words.ts";
import { OpenFindings } from "./open-findings.tsx";
import { STANDING_WORD } from "./standing-words.ts";
import { StatusLine } from "./status-line.tsx";
import css from "./system-live.module.css";
import { clockOf } from "./time-words.ts";
import { Top } from "./top.tsx";
import type { TrendAddress } from "./trend-address.ts";
import { useLive } from "./use-live.ts";

/** Charts and workings come after the head: how the system stands is seen and can be answered before they are there. */
const Trends = lazy(() => import("./trends.tsx").then((m) => ({ default: m.Trends })));
const CausesLater = lazy(() =>
  import("./incidents/causes-later.tsx").then((m) => ({ default: m.CausesLater })),
);
const ComputedNow = lazy(() => import("./computed-now.tsx").then((m) => ({ default: m.ComputedNow })));

/** One system, kept up to date in place. */
export function SystemLive({
  code,
  initial,
  address,
  others,
  since,
  mayAcknowledge,
}: {
  readonly code: string;
  readonly initial: SystemsView;
  readonly address: TrendAddress;
  readonly others: readonly { readonly system: string; readonly name: string }[];
  readonly since: readonly Since[];
  readonly mayAcknowledge: boolean;
}) {
  const live = useLive(initial, null, code);
  const clock = clockOf(live.view.zone);
  const system = live.view.systems.find((s) => s.system === code);
  const minute = Math.floor(live.now / 60_000) * 60_000;
  if (system === undefined) return null;
  const about = [system.volume > 0 ? volumeWords(system.volume) : "", system.kind].filter((t) => t !== "");
  return (
    <>
      <Top here="systems">
        <StatusLine live={live} />
      </Top>
      <main id="main" className={css.page} data-system={system.system} data-standing={system.standing}>
        <p className={css.back}>
          <a href="/systems">All systems</a>
        </p>
        <div className={css.title}>
          <h1>{system.name}</h1>
          <p className={css.about}>{about.join(" · ")}</p>
          <p className={classes(css.standing, css[system.standing])}>
            <Mark seen={system.standing} /> {STANDING_WORD[system.standing]}
          </p>
        </div>
        <OpenFindings findings={system.findings} clock={clock} now={minute} mayAcknowledge={mayAcknowledge} />
        {system.findings.length > 0 && (
          <Suspense fallback={null}>
            <CausesLater
              key={system.findings.map((finding) => finding.id).join()}
              system={system.system}
              open={system.findings.map((finding) => finding.id)}
              clock={clock}
              now={minute}
            />
          </Suspense>
        )}
        {system.residents.length > 0 && (
          <p className={css.line}>
            <span>Residents</span> {system.residents.join(" · ")}
          </p>
        )}
        <Equipment system={system} since={since} clock={clock} now={minute} />
        <Suspense fallback={<p role="status">Reading the charts ...</p>}>
          <Trends system={system} address={address} others={others} clock={clock} now={live.now} />
          <ComputedNow system={system.system} clock={clock} now={minute} />
        </Suspense>
      </main>
    </>
  );
}
