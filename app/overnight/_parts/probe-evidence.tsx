"use client";

import { AgreementChart } from "#app/_components/drawing/agreement-chart.tsx";
import css from "#app/_components/drawing/probes.module.css";
import { useAnswer } from "#app/_components/live/use-answer.ts";
import type { ProbeView } from "#contract/probes.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";

/** The proof that a probe and not the water moved: its differences from the bench, and what its twin says. */
export function ProbeEvidence({ stream, clock }: { readonly stream: number; readonly clock: ZoneClock }) {
  const { answer } = useAnswer<ProbeView>(`/streams/${stream}/probe`);
  if (answer === null) return <p className={css.soft}>Loading its bench tests ...</p>;
  if (!answer.ok) return <p className={css.soft}>No chart: {answer.says}</p>;
  const view = answer.value;
  return (
    <div data-probe-evidence={stream}>
      <AgreementChart view={view} clock={clock} />
      <p className={css.soft}>
        Probe minus bench; squares are tests. {view.twinSays}{" "}
        <a href="/probes">
          {view.why === "" ? "See it on the Probes page" : "Calibrate it on the Probes page"}
        </a>
      </p>
    </div>
  );
}
