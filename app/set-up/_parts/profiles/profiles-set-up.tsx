"use client";

import { lazy, Suspense, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import { type Sent, send } from "#app/_components/live/send.ts";
import { useAnswer } from "#app/_components/live/use-answer.ts";
import type { Change } from "#app/_components/words/change.ts";
import { changeOf, dayWords } from "#app/_components/words/habitat-words.ts";
import type { HabitatAnswer, ProfilesView } from "#contract/habitat.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { ChangeNote } from "../change-note.tsx";
import { Unanswered } from "../unanswered.tsx";

const NewSpecies = lazy(() => import("./new-species.tsx").then((m) => ({ default: m.NewSpecies })));

/** Species with their habitat profiles, and the library to take more from. */
export function ProfilesSetUp({ zone, may }: { readonly zone: string; readonly may: boolean }) {
  const { answer, again } = useAnswer<ProfilesView>("/profiles");
  const [change, setChange] = useState<Change | null>(null);
  const [busy, setBusy] = useState<string | null>(null);
  const [failed, setFailed] = useState<Sent<HabitatAnswer> | null>(null);
  const [isNew, setNew] = useState(false);
  if (!answer?.ok) return <Unanswered answer={answer} what="the profiles" onAgain={again} />;
  const view = answer.value;
  const clock = clockOf(zone);
  const take = async (species: readonly string[], says: string) => {
    setBusy(species.length === 1 ? (species[0] ?? null) : "all");
    const sent = await send<HabitatAnswer>("/profiles", { species });
    setBusy(null);
    setFailed(sent.ok ? null : sent);
    if (sent.ok) setChange(changeOf(says, sent.value));
    again();
  };
  const offered = view.library.filter((each) => !each.isKnown);
  return (
    <>
      <h1>Profiles</h1>
      <p className={css.soft}>
        The conditions each species has in the wild, by life stage, month and quantity, each number with its
        source. Preferred and advised ranges set the edges of target bands. Tolerated and lethal values bound
        the action limits. What animals meet or use is for information only.
      </p>
      <ChangeNote change={change} onClose={() => setChange(null)} onUndone={again} />
      {failed !== null && !failed.ok && (
        <p className={css.wrong} role="alert">
          {failed.says}
        </p>
      )}
      <section aria-labelledby="species">
        <div className={css.sectionHead}>
          <h2 id="species">Species</h2>
          {may && <Button onClick={() => setNew(true)}>Add a species</Button>}
        </div>
        {view.species.length === 0 ? (
          <p className={css.soft}>None yet. Add one from the library below, or write your own.</p>
        ) : (
          <ul className={css.systems}>
            {view.species.map((each) => {
              const newest = each.profiles[0];
              return (
                <li key={each.id} data-species={each.id}>
                  <a href={`/set-up/profiles/${encodeURIComponent(each.id)}`}>{each.name}</a>
                  <small>
                    <i>{each.scientific}</i>{" "}
                    {newest === undefined
                      ? "no profile: its needs are not known"
                      : `${newest.entries} ${newest.entries === 1 ? "entry" : "entries"}, version ${newest.version}, ${newest.recordedBy}, ${dayWords(newest.recorded, clock, "")}`}
                  </small>
                  <small>
                    {each.livesIn.length === 0
                      ? "none kept here"
                      : each.livesIn.map((at) => `${at.count} in ${at.name}`).join(", ")}
                  </small>
                </li>
              );
            })}
          </ul>
        )}
      </section>
      <section aria-labelledby="library">
        <div className={css.sectionHead}>
          <h2 id="library">Library</h2>
          {may && offered.length > 0 && (
            <Button
              busy={busy === "all"}
              onClick={() =>
                void take(
                  offered.map((each) => each.id),
                  `${offered.length} species added from the library.`,
                )
              }
            >
              Add all
            </Button>
          )}
        </div>
        <p className={css.soft}>
          Starting points with their published sources, each number marked: read, read as quoted, from memory,
          computed, or common practice. None of these ranges is a fixed rule for a species: check them before
          you rely on them.
        </p>
        {offered.length === 0 ? (
          <p className={css.soft}>Every species in the library has been added.</p>
        ) : (
          <ul className={css.stays}>
            {offered.map((each) => (
              <li key={each.id} data-library={each.id}>
                <p>
                  <b>{each.name}</b> <i className={css.soft}>{each.scientific}</i>{" "}
                  <small className={css.soft}>{each.entries} numbers</small>
                </p>
                {may && (
                  <Button
                    busy={busy === each.id}
                    aria-label={`Add ${each.name}`}
                    onClick={() => void take([each.id], `${each.name} added from the library.`)}
                  >
                    Add
                  </Button>
                )}
              </li>
            ))}
          </ul>
        )}
      </section>
      {isNew && (
        <Suspense>
          <NewSpecies onClose={() => setNew(false)} />
        </Suspense>
      )}
    </>
  );
}
