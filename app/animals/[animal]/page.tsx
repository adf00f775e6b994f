import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { ButtonLink } from "#app/_components/controls/button.tsx";
import { PrintButton } from "#app/_components/controls/print-button.tsx";
import home from "#app/_components/drawing/home-water.module.css";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { Top } from "#app/_components/frame/top.tsx";
import { pageAccess } from "#app/_server/page-access.ts";
import type { AnimalWaterView } from "#contract/animal-water.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import type { ReadDeps } from "#services/deps.ts";
import { AppError } from "#services/errors.ts";
import { readAnimalWater } from "#services/home-water/read-animal-water.ts";
import css from "../_parts/animal-water.module.css";
import { LifeOf, Visits } from "../_parts/animal-water.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Water history of an animal" };

interface Address {
  readonly params: Promise<{ animal: string }>;
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

async function waterOr404(read: ReadDeps, animal: string, year: number | null): Promise<AnimalWaterView> {
  try {
    return await readAnimalWater(read, animal, year === null ? {} : { year });
  } catch (failed) {
    if (failed instanceof AppError && failed.code === "not_found") notFound();
    throw failed;
  }
}

/** The years of its life, each the same page narrowed to it. */
function Years({ view }: { readonly view: AnimalWaterView }) {
  const path = `/animals/${encodeURIComponent(view.animal)}`;
  return (
    <nav aria-label="Period" className={`${css.years} no-print`}>
      <a href={path} aria-current={view.year === null ? "page" : undefined}>
        whole life
      </a>
      {view.years.map((year) => (
        <a key={year} href={`${path}?year=${year}`} aria-current={view.year === year ? "page" : undefined}>
          {year}
        </a>
      ))}
    </nav>
  );
}

export default async function AnimalWater({ params, searchParams }: Address) {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const [{ animal }, { year }] = await Promise.all([params, searchParams]);
  const wanted = typeof year === "string" && /^(19|20|21)\d\d$/.test(year) ? Number(year) : null;
  const view = await waterOr404(access.deps.read, decodeURIComponent(animal), wanted);
  const clock = clockOf(view.zone);
  const who = view.name ?? view.speciesName;
  const table = `/api/v1/animals/${encodeURIComponent(view.animal)}/water/table${wanted === null ? "" : `?year=${wanted}`}`;
  return (
    <>
      <div className="no-print">
        <Top here="home-water" />
      </div>
      <main id="main" className={home.page}>
        <div className={home.head}>
          <h1>Water history of {who}</h1>
          <span>
            {view.name === null ? "" : `${view.speciesName} · `}
            {view.population === null ? "" : `from ${view.population} · `}
            {view.sex === null ? "" : `${view.sex} · `}
            {view.year ?? "whole life"} · {clock.day(view.from)} {clock.year(view.from)} to{" "}
            {clock.full(view.to)} ({view.zone})
          </span>
        </div>
        <p className={css.lives}>
          {view.livesIn.length === 0
            ? "Not in any system now."
            : view.livesIn.map(({ system, name, stage, count }, i) => (
                <span key={`${system}/${stage}`}>
                  {i === 0 ? "Lives in " : ", "}
                  <a href={`/systems/${encodeURIComponent(system)}`}>{name}</a> (
                  {count === 1 ? "" : `${count} `}
                  {stage})
                </span>
              ))}
        </p>
        {!view.isWhole && (
          <p className={home.out}>
            Only systems you have access to are shown. The animal may have lived in others too.
          </p>
        )}
        <Years view={view} />
        <p className={`${home.tools} no-print`}>
          <PrintButton />
          <ButtonLink href={table}>CSV</ButtonLink>
        </p>
        {view.quantities.length === 0 ? (
          <p className={home.soft}>
            No readings of its water in this period, and no profile of its species’ home water.
          </p>
        ) : (
          <>
            <h2 className="unseen">Where it lived</h2>
            <Visits view={view} />
            {view.quantities.map((of) => (
              <LifeOf key={of.quantity} view={view} of={of} />
            ))}
          </>
        )}
        <p className={home.soft}>
          In range: share of 15-minute means of good readings inside the range for its species at its life
          stage then. “·”: no range to compare with. “–” or “not read”: no good readings; such times count
          neither as in nor as out of range. Nothing here is veterinary advice.
        </p>
      </main>
    </>
  );
}
