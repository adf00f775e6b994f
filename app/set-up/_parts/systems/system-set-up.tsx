"use client";

import { lazy, Suspense, useState } from "react";
import css from "#app/_components/controls/forms.module.css";
import { useAnswer } from "#app/_components/live/use-answer.ts";
import type { Change } from "#app/_components/words/change.ts";
import type { ResidentsView } from "#contract/habitat.ts";
import type { BandsView, SystemSetUpView } from "#contract/set-up-forms.ts";
import type { SystemState } from "#contract/views.ts";
import { BandsSection } from "../bands/bands-section.tsx";
import { ChangeNote } from "../change-note.tsx";
import { Unanswered } from "../unanswered.tsx";
import { AboutSection } from "./about-section.tsx";
import { PointsSection } from "./points-section.tsx";
import { StreamsSection } from "./streams-section.tsx";

const ResidentsSection = lazy(() =>
  import("../residents/residents-section.tsx").then((m) => ({ default: m.ResidentsSection })),
);
const LightSection = lazy(() =>
  import("../light/light-section.tsx").then((m) => ({ default: m.LightSection })),
);

/** Everything that is set up of one system. `may`: rights the reader holds somewhere; the server checks them here. */
export function SystemSetUp({ code, may }: { readonly code: string; readonly may: readonly string[] }) {
  const path = `/systems/${encodeURIComponent(code)}`;
  const setUp = useAnswer<SystemSetUpView>(`${path}/set-up`);
  const bands = useAnswer<BandsView>(`${path}/bands`);
  const state = useAnswer<SystemState>(`${path}/state`);
  const [change, setChange] = useState<Change | null>(null);
  const residents = useAnswer<ResidentsView>(`${path}/residents`);
  const all = [setUp, bands, state, residents];
  const again = () => {
    for (const one of all) one.again();
  };
  if (!setUp.answer?.ok || !bands.answer?.ok || !state.answer?.ok || !residents.answer?.ok) {
    const first = all.find(({ answer }) => answer !== null && !answer.ok)?.answer ?? null;
    return <Unanswered answer={first} what="the set-up" onAgain={again} />;
  }
  const changed = (next: Change) => {
    setChange(next);
    again();
  };
  const view = setUp.answer.value;
  const shared = { setUp: view, state: state.answer.value, onChange: changed };
  return (
    <>
      <h1>{view.name}</h1>
      <nav className={css.parts} aria-label="Parts of this page">
        <a href="#bands">Bands</a>
        <a href="#residents">Residents</a>
        <a href="#breeding">Breeding</a>
        <a href="#light">Light</a>
        <a href="#streams">Streams</a>
        <a href="#points">Points</a>
        <a href="#about">System</a>
        <a href={`/systems/${encodeURIComponent(code)}`}>Charts</a>
      </nav>
      <ChangeNote
        change={change}
        onClose={() => setChange(null)}
        onUndone={() => {
          setChange(null);
          again();
        }}
      />
      <BandsSection {...shared} view={bands.answer.value} may={may.includes("change-band")} />
      <Suspense>
        <ResidentsSection
          view={residents.answer.value}
          may={may.includes("change-habitat")}
          onChange={changed}
        />
        <LightSection code={code} may={may.includes("change-band")} onChange={changed} />
      </Suspense>
      <StreamsSection {...shared} now={bands.answer.value.now} may={may.includes("change-stream")} />
      <PointsSection setUp={view} onChange={changed} may={may.includes("change-system")} />
      <AboutSection setUp={view} onChange={changed} may={may.includes("change-system")} />
    </>
  );
}
