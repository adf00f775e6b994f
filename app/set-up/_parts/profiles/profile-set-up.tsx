"use client";

import { lazy, Suspense, useEffect, useState } from "react";
import { Button, ButtonLink } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import { useAnswer } from "#app/_components/live/use-answer.ts";
import type { Change } from "#app/_components/words/change.ts";
import { dayWords } from "#app/_components/words/habitat-words.ts";
import type { ProfileView } from "#contract/habitat.ts";
import { monthShort } from "#core/time/names.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { ChangeNote } from "../change-note.tsx";
import { Unanswered } from "../unanswered.tsx";

const ProfileEditor = lazy(() => import("./profile-editor.tsx").then((m) => ({ default: m.ProfileEditor })));
const ImportForm = lazy(() => import("./profile-import.tsx").then((m) => ({ default: m.ImportForm })));

type Version = ProfileView["profiles"][number];

/** A range with what is typical in it; each may be unknown. */
function rangeWords({ low, typical, high }: Version["all"][number]): string {
  const range =
    low !== null && high !== null
      ? `${low} to ${high}`
      : low !== null
        ? `from ${low}`
        : high !== null
          ? `up to ${high}`
          : "";
  if (typical === null) return range;
  return range === "" ? `typically ${typical}` : `${range}, typically ${typical}`;
}

function Entries({ version }: { readonly version: Version }) {
  return (
    <div className={css.wide}>
      <table className={css.table}>
        <thead>
          <tr>
            <th scope="col">Quantity</th>
            <th scope="col">Stage</th>
            <th scope="col">Month</th>
            <th scope="col">Range</th>
            <th scope="col">Kind</th>
            <th scope="col">Source</th>
          </tr>
        </thead>
        <tbody>
          {version.all.map((entry) => (
            <tr key={JSON.stringify(entry)}>
              <th scope="row">{entry.label}</th>
              <td>{entry.stage ?? "every stage"}</td>
              <td>{entry.month === null ? "all year" : monthShort(entry.month)}</td>
              <td>
                {rangeWords(entry)} <small>{entry.unitLabel}</small>
              </td>
              <td>
                {entry.kind} <small>{entry.means}</small>
              </td>
              <td className={css.whole}>
                {entry.source}{" "}
                <small>
                  {entry.mark}, confidence {entry.confidence}
                  {entry.place === null ? "" : `, ${entry.place}`}
                  {entry.depth === null ? "" : `, ${entry.depth}`}
                  {entry.years === null ? "" : `, ${entry.years}`}
                  {entry.note === null ? "" : `. ${entry.note}`}
                </small>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** One species: its profiles in force, their versions, an editor, import and export. */
export function ProfileSetUp({
  species,
  zone,
  may,
}: {
  readonly species: string;
  readonly zone: string;
  readonly may: boolean;
}) {
  const path = `/profiles/${encodeURIComponent(species)}`;
  const { answer, again } = useAnswer<ProfileView>(path);
  const [change, setChange] = useState<Change | null>(null);
  const [open, setOpen] = useState<
    { readonly kind: "edit"; readonly from: Version | null } | { readonly kind: "import" } | null
  >(null);
  const [name, setName] = useState<string | null>(null);
  useEffect(() => setName(new URLSearchParams(location.search).get("name")), []);
  const isNew = answer !== null && !answer.ok && answer.status === 404 && name !== null;
  if (!answer?.ok && !isNew) return <Unanswered answer={answer} what="the profile" onAgain={again} />;
  const view = answer?.ok ? answer.value : null;
  const clock = clockOf(zone);
  const done = (next: Change) => {
    setOpen(null);
    setChange(next);
    again();
  };
  const inForce = view?.profiles.filter((each) => each.inForce) ?? [];
  const older = view?.profiles.filter((each) => !each.inForce) ?? [];
  return (
    <>
      <h1>{view?.species.name ?? name}</h1>
      {view !== null && (
        <p className={css.soft}>
          <i>{view.species.scientific}</i>
          {view.species.development.map(
            (each) =>
              ` · ${each.kind} ${each.shortestDays} to ${each.longestDays} days (${each.source}, ${each.mark})`,
          )}
          {view.species.mayDelay === true && " · sperm storage or delayed development possible"}
        </p>
      )}
      <ChangeNote change={change} onClose={() => setChange(null)} onUndone={again} />
      {may && (
        <p className={css.buttons}>
          <Button kind={isNew ? "main" : "plain"} onClick={() => setOpen({ kind: "edit", from: null })}>
            {isNew ? "Write its profile" : "Profile of another population"}
          </Button>
          {!isNew && <Button onClick={() => setOpen({ kind: "import" })}>Import a file</Button>}
        </p>
      )}
      {inForce.map((version) => (
        <section key={version.id} aria-labelledby={version.id}>
          <div className={css.sectionHead}>
            <h2 id={version.id}>
              {version.population === null ? "All populations" : `From ${version.population}`}
            </h2>
            <p className={css.rowButtons}>
              <ButtonLink
                href={`/api/v1${path}/export?format=csv${version.population === null ? "" : `&population=${encodeURIComponent(version.population)}`}`}
              >
                CSV
              </ButtonLink>
              <ButtonLink href={`/api/v1${path}/export?format=json`}>JSON</ButtonLink>
              {may && <Button onClick={() => setOpen({ kind: "edit", from: version })}>New version</Button>}
            </p>
          </div>
          <p className={css.soft}>
            Version {version.version}, {version.recordedBy}, {dayWords(version.recorded, clock, "")}:{" "}
            {version.reason}
            {version.latitude === null || version.longitude === null
              ? ""
              : ` · home water at ${version.latitude}, ${version.longitude}`}
          </p>
          <Entries version={version} />
        </section>
      ))}
      {view !== null && view.species.facts.length > 0 && (
        <section aria-labelledby="facts">
          <h2 id="facts">Other known facts</h2>
          <ul>
            {view.species.facts.map((fact) => (
              <li key={fact.says}>
                {fact.says}{" "}
                <small className={css.soft}>
                  {fact.source}, {fact.mark}
                </small>
              </li>
            ))}
          </ul>
        </section>
      )}
      {older.length > 0 && (
        <section aria-labelledby="versions">
          <h2 id="versions">Earlier versions</h2>
          {older.map((version) => (
            <details key={version.id}>
              <summary>
                {version.population ?? "all populations"}, version {version.version}, {version.recordedBy},{" "}
                {dayWords(version.recorded, clock, "")}: {version.reason}
              </summary>
              <Entries version={version} />
            </details>
          ))}
        </section>
      )}
      {open !== null && (
        <Suspense>
          {open.kind === "import" ? (
            <ImportForm species={species} onClose={() => setOpen(null)} onDone={done} />
          ) : (
            <ProfileEditor
              species={species}
              name={isNew ? name : null}
              from={open.from}
              onClose={() => setOpen(null)}
              onDone={done}
            />
          )}
        </Suspense>
      )}
    </>
  );
}
