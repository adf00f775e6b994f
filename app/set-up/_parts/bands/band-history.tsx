"use client";

import { useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import { type Sent, send } from "#app/_components/live/send.ts";
import type { Change } from "#app/_components/words/change.ts";
import type { BandView, ChangeAnswer } from "#contract/set-up-forms.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { fromWords, limitWords, targetWords } from "./band-words.ts";

const words = (band: BandView): string =>
  [targetWords(band), limitWords(band)].filter((text) => text !== "").join(", ");

/** Every version of one band, newest first, with who, why and from where; an earlier one can be put back, as a new version. */
export function BandHistory({
  system,
  versions,
  clock,
  may,
  onChange,
}: {
  readonly system: string;
  readonly versions: readonly BandView[];
  readonly clock: ZoneClock;
  readonly may: boolean;
  readonly onChange: (change: Change) => void;
}) {
  const [busy, setBusy] = useState("");
  const [failed, setFailed] = useState<Sent<ChangeAnswer> | null>(null);
  const putBack = async (band: BandView) => {
    setBusy(band.id);
    const answer = await send<ChangeAnswer>(`/systems/${encodeURIComponent(system)}/bands`, {
      quantity: band.quantity,
      point: band.point,
      months: band.months,
      reason: `restored the version of ${clock.full(band.recorded)}: ${band.reason}`.slice(0, 500),
      source: band.source,
    });
    setBusy("");
    setFailed(answer.ok ? null : answer);
    if (answer.ok)
      onChange({
        says: `The earlier ${band.quantityLabel} band is in force again.`,
        answer: answer.value,
      });
  };
  const sorted = [...versions].sort((a, b) => b.recorded - a.recorded || b.validFrom - a.validFrom);
  return (
    <div className={css.history}>
      <ol aria-label={`Versions of the ${versions[0]?.quantityLabel ?? ""} band`}>
        {sorted.map((band) => (
          <li key={band.id}>
            <p>
              <b>{words(band)}</b> {band.unitLabel}{" "}
              <small>
                {fromWords(band, clock)}
                {band.validTo === null
                  ? ""
                  : ` to ${clock.dayClock(band.validTo)} ${clock.year(band.validTo)}`}
              </small>
            </p>
            <p className={css.soft}>
              {band.reason} <i>{band.source}</i>, {band.setBy}, set {clock.dayClock(band.recorded)}{" "}
              {clock.year(band.recorded)}
            </p>
            {band.inForce ? (
              <small>in force</small>
            ) : (
              may && (
                <Button
                  busy={busy === band.id}
                  onClick={() => putBack(band)}
                  aria-label={`Restore ${words(band)}`}
                >
                  Restore
                </Button>
              )
            )}
          </li>
        ))}
      </ol>
      {failed !== null && !failed.ok && (
        <p className={css.wrong} role="alert">
          {failed.says}
        </p>
      )}
    </div>
  );
}
