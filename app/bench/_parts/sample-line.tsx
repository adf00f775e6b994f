"use client";

import { useState } from "react";
import { Press } from "#app/_components/controls/press.tsx";
import { pointWords } from "#app/_components/words/point-words.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import css from "./bench.module.css";
import { Later } from "./later.tsx";
import { loadSampleEditor } from "./parts-later.ts";
import type { SampleProps } from "./sample-editor.tsx";

/** Where and when the water was taken: now and the display unless somebody says otherwise. */
export function SampleLine(props: SampleProps) {
  const { point, sampledAt, now, zone } = props;
  const [isOpen, setOpen] = useState(false);
  const clock = clockOf(zone);
  const shown = sampledAt ?? now;
  return (
    <div>
      <p className={css.sampleLine}>
        <span>
          {pointWords(point)}, sampled {sampledAt === null ? "now, " : ""}
          <time dateTime={new Date(shown).toISOString()} title={zone} suppressHydrationWarning>
            {`${clock.dayClock(shown)} ${clock.name(shown)}`}
          </time>
        </span>
        <Press className={css.asLink} aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
          {isOpen ? "done" : "change"}
          <span className="unseen"> where and when the sample was taken</span>
        </Press>
      </p>
      {isOpen && (
        <Later load={loadSampleEditor} missing={<p>This cannot be changed without a connection.</p>}>
          {({ SampleEditor }) => <SampleEditor {...props} />}
        </Later>
      )}
    </div>
  );
}
