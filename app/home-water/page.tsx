import type { Metadata } from "next";
import type { HomeWaterListView } from "#contract/home-water.ts";
import { signedText } from "#core/units/number-text.ts";
import { percent } from "#core/units/share-text.ts";
import { listHomeWater } from "#services/home-water/list-home-water.ts";
import { isMissing } from "../_components/drawing/fit-table.tsx";
import css from "../_components/drawing/home-water.module.css";
import { NoPermission } from "../_components/frame/no-permission.tsx";
import { Top } from "../_components/frame/top.tsx";
import { pageAccess } from "../_server/page-access.ts";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Home water" };

type Row = HomeWaterListView["systems"][number];

function Fits({ fits }: Pick<Row, "fits">) {
  if (fits.length === 0)
    return (
      <p className={css.soft}>
        Nothing to compare with yet: add profiles for its residents, or set target bands.
      </p>
    );
  return (
    <dl className={css.bars}>
      {fits.map((fit) => {
        const isOut = isMissing(fit.year);
        return (
          <div key={fit.quantity}>
            <dt>{fit.label}</dt>
            <dd data-out={isOut || undefined}>
              {fit.year.share === null ? "not scored" : percent(fit.year.share)}
              {isOut &&
                fit.year.typicalMiss !== null &&
                ` ${fit.year.typicalMiss > 0 ? "▲" : "▼"} ${signedText(fit.year.typicalMiss, 2, "")}`}{" "}
              <small>
                {fit.kind === "common" || fit.kind === "target" ? fit.against : `${fit.against}, ${fit.kind}`}
                {fit.kind !== "native" && "; native range not known"}
                {fit.band !== null &&
                  fit.band.year.share !== null &&
                  `; ${fit.band.against} ${percent(fit.band.year.share)}`}
              </small>
            </dd>
          </div>
        );
      })}
    </dl>
  );
}

export default async function HomeWaterPage() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const view = await listHomeWater(access.deps.read);
  return (
    <>
      <Top here="home-water" />
      <main id="main" className={css.page}>
        <div className={css.head}>
          <h1>Home water</h1>
          <span>{view.year} so far</span>
          <a href="/calendar" className={`${css.aside} no-print`}>
            Calendar
          </a>
        </div>
        <p className={css.headline}>
          How close each system is to its animals’ home water: the share of 15-minute means inside the range,
          and how far out the rest were. Only misses are coloured.
        </p>
        {view.systems.length === 0 && <p>No system is set up yet.</p>}
        <ul className={css.cards}>
          {view.systems.map((row) => (
            <li key={row.system} className={css.card}>
              <div>
                <a href={`/home-water/${row.system}`}>{row.name}</a>
                <p className={css.soft}>{row.residents === "" ? "no residents" : row.residents}</p>
              </div>
              <div>
                <Fits fits={row.fits} />
                {row.conflict && <p className={css.out}>{row.conflict}</p>}
              </div>
            </li>
          ))}
        </ul>
      </main>
    </>
  );
}
