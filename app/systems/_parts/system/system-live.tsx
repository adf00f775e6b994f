"use client";

import { useRouter } from "next/navigation";
import { lazy, type ReactNode, Suspense, useEffect, useRef } from "react";
import { classes } from "#app/_components/controls/classes.ts";
import { Top } from "#app/_components/frame/top.tsx";
import { StatusLine } from "#app/_components/live/status-line.tsx";
import { useLive } from "#app/_components/live/use-live.ts";
import { Mark } from "#app/_components/strip/mark.tsx";
import { volumeWords } from "#app/_components/words/number-words.ts";
import { STANDING_WORD } from "#app/_components/words/standing-words.ts";
import type { WatchView } from "#contract/habitat.ts";
import type { SystemsView } from "#contract/views.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import type { TrendAddress } from "../trend/trend-address.ts";
import { Equipment, type Since } from "./equipment.tsx";
import { OpenFindings } from "./open-findings.tsx";
import css from "./system-live.module.css";

/** Charts and workings come after the head: how the system stands is seen and can be answered before they are there. */
const Trends = lazy(() => import("../trend/trends.tsx").then((m) => ({ default: m.Trends })));
const CausesLater = lazy(() => import("./causes-later.tsx").then((m) => ({ default: m.CausesLater })));
const ComputedNow = lazy(() => import("./computed-now.tsx").then((m) => ({ default: m.ComputedNow })));

/** What the server drew of the residents is drawn again when the live state says that others live here now. */
function useMoves(who: string): void {
  const router = useRouter();
  const known = useRef(who);
  useEffect(() => {
    if (known.current === who) return;
    known.current = who;
    router.refresh();
  }, [who, router]);
}

/** One system, kept up to date in place. */
export function SystemLive({
  code,
  initial,
  address,
  others,
  since,
  living,
  watches,
  mayAcknowledge,
}: {
  readonly code: string;
  readonly initial: SystemsView;
  readonly address: TrendAddress;
  readonly others: readonly { readonly system: string; readonly name: string }[];
  readonly since: readonly Since[];
  /** Who lives here, drawn by the server. */
  readonly living: ReactNode;
  readonly watches: readonly WatchView[];
  readonly mayAcknowledge: boolean;
}) {
  const live = useLive(initial, null, code);
  const clock = clockOf(live.view.zone);
  const system = live.view.systems.find((s) => s.system === code);
  const minute = Math.floor(live.now / 60_000) * 60_000;
  useMoves(system?.residents.join("\n") ?? "");
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
        {system.notes?.map(({ says }) => (
          <p key={says} className={css.about}>
            {says}
          </p>
        ))}
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
        <Equipment system={system} since={since} clock={clock} now={minute} />
        {living}
        <Suspense fallback={<p role="status">Loading the charts ...</p>}>
          <Trends
            system={system}
            address={address}
            watches={watches}
            others={others}
            clock={clock}
            now={live.now}
          />
          <ComputedNow system={system.system} clock={clock} now={minute} />
        </Suspense>
      </main>
    </>
  );
}
