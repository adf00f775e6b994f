import type { Metadata } from "next";
import { ButtonLink } from "#app/_components/controls/button.tsx";
import { PrintButton } from "#app/_components/controls/print-button.tsx";
import { FitTable } from "#app/_components/drawing/fit-table.tsx";
import css from "#app/_components/drawing/home-water.module.css";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { pageAccess } from "#app/_server/page-access.ts";
import { Sources } from "#app/home-water/_parts/edges.tsx";
import { Beside, Drawings, homeWords, residentWords } from "#app/home-water/_parts/home-water-body.tsx";
import { clockOf } from "#core/time/zone-clock.ts";
import { type Address, askedOf, homeWaterOr404 } from "../home-water-address.ts";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Home water, print version" };

export default async function HomeWaterPaper(address: Address) {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const asked = await askedOf(address);
  const view = await homeWaterOr404(access.deps.read, asked.system, asked.year);
  const clock = clockOf(view.zone);
  return (
    <main id="main" className={`${css.page} ${css.paper}`}>
      <p className={`${css.tools} no-print`}>
        <PrintButton />
        <ButtonLink href={`/api/v1/home-water/${view.system}/table?year=${view.year}`}>CSV</ButtonLink>
        <ButtonLink href={`/home-water/${view.system}?year=${view.year}`}>Back</ButtonLink>
      </p>
      <header>
        <h1>
          {view.systemName} against its home water, {view.year}
        </h1>
        <p className={css.soft}>
          {view.siteName} · {homeWords(view)} · {residentWords(view)} · {clock.day(view.from)} to{" "}
          {clock.full(view.to - 1)} ({view.zone}) · printed {clock.full(view.now)}
        </p>
      </header>
      <p>{view.headline}</p>
      <Drawings view={view} />
      <FitTable view={view} />
      <Beside view={view} />
      <Sources quantities={view.quantities} />
      <p className={css.soft}>
        Fit is the share of 15-minute means of good readings inside the range; months without a common range
        are not scored. Between mid-months, ranges are interpolated linearly. Nothing here is veterinary
        advice.
      </p>
    </main>
  );
}
