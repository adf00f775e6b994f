import type { Metadata } from "next";
import { Button, ButtonLink } from "#app/_components/controls/button.tsx";
import { FitTable } from "#app/_components/drawing/fit-table.tsx";
import css from "#app/_components/drawing/home-water.module.css";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { Top } from "#app/_components/frame/top.tsx";
import { type PageAccess, pageAccess } from "#app/_server/page-access.ts";
import type { HomeWaterView } from "#contract/home-water.ts";
import type { NativeWaterView } from "#contract/native-water.ts";
import { AppError } from "#services/errors.ts";
import { readHomeOrNative } from "#services/home-water/read-native-water.ts";
import { readSystems } from "#services/systems/read-systems.ts";
import { Sources } from "../_parts/edges.tsx";
import { Beside, Drawings, homeWords, residentWords } from "../_parts/home-water-body.tsx";
import { SeasonPanel } from "../_parts/season-panel.tsx";
import { type Address, askedOf, type HomeWaterQuery, homeWaterOr404 } from "./home-water-address.ts";

export const dynamic = "force-dynamic";

type Deps = Extract<PageAccess, { may: true }>["deps"];
type Choice = { readonly system: string; readonly name: string };

export async function generateMetadata({ params }: Address): Promise<Metadata> {
  const { system } = await params;
  return { title: `${decodeURIComponent(system)}, home water` };
}

async function seaAt(deps: Deps, at: HomeWaterQuery["at"]): Promise<NativeWaterView | string | null> {
  if (!at) return null;
  try {
    return await readHomeOrNative({ ...deps.native, store: deps.read.store }, at);
  } catch (refused) {
    if (refused instanceof AppError && refused.code === "not_found") return refused.message;
    throw refused;
  }
}

/** Choosing what stands beside the system needs no script: it is a form whose answer is the same page. */
function CompareForm({
  view,
  asked,
  others,
}: {
  view: HomeWaterView;
  asked: HomeWaterQuery;
  others: readonly Choice[];
}) {
  const years = Array.from({ length: 6 }, (_, i) => new Date(view.now).getUTCFullYear() - i);
  return (
    <form method="get" className={`${css.tools} no-print`} aria-label="Year and comparison">
      <label>
        Year{" "}
        <select name="year" defaultValue={view.year}>
          {years.map((year) => (
            <option key={year}>{year}</option>
          ))}
        </select>
      </label>
      <label>
        compare with{" "}
        <select name="with" defaultValue={asked.beside ?? ""}>
          <option value="">nothing</option>
          <option value={view.system}>the same system</option>
          {others.map(({ system, name }) => (
            <option key={system} value={system}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <label>
        in{" "}
        <select name="withYear" defaultValue={asked.besideYear ?? view.year}>
          {years.map((year) => (
            <option key={year}>{year}</option>
          ))}
        </select>
      </label>
      <label>
        sea at{" "}
        <input
          name="at"
          size={14}
          placeholder="33, -117"
          aria-label="Sea at latitude, longitude"
          defaultValue={asked.at ? `${asked.at.latitude}, ${asked.at.longitude}` : ""}
        />
      </label>
      <Button type="submit">Compare</Button>
      <ButtonLink href={`/home-water/${view.system}/paper?year=${view.year}`}>Print version</ButtonLink>
      <ButtonLink href={`/calendar?system=${view.system}`}>Calendar</ButtonLink>
    </form>
  );
}

/** The way from a system to the water each named animal of it lived in. */
function Animals({ view }: { view: HomeWaterView }) {
  const named = view.residents.flatMap(({ animals }) => animals);
  if (named.length === 0) return null;
  return (
    <p className={`${css.animals} no-print`}>
      Water history of each animal:{" "}
      {named.map(({ id, name }) => (
        <a key={id} href={`/animals/${encodeURIComponent(id)}`}>
          {name}
        </a>
      ))}
    </p>
  );
}

function Heading({ view }: { view: HomeWaterView }) {
  return (
    <div className={css.head}>
      <h2>
        {view.systemName}, {view.year}
      </h2>
      <span className={css.soft}>{residentWords(view)}</span>
    </div>
  );
}

export default async function HomeWaterOfSystem(address: Address) {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const asked = await askedOf(address);
  const { deps, me } = access;
  const view = await homeWaterOr404(deps.read, asked.system, asked.year);
  const [{ systems }, sea, other] = await Promise.all([
    readSystems(deps.read),
    seaAt(deps, asked.at),
    asked.beside === null ? null : homeWaterOr404(deps.read, asked.beside, asked.besideYear ?? view.year),
  ]);
  const others = systems
    .filter(({ system }) => system !== view.system)
    .map(({ system, name }) => ({ system, name }))
    .sort((a, b) => a.name.localeCompare(b.name, "en"));
  const native =
    sea !== null && typeof sea !== "string"
      ? {
          temperature: {
            label: `sea at ${sea.asked.latitude}, ${sea.asked.longitude}: box ${sea.box.latitude}, ${sea.box.longitude}`,
            months: sea.temperature,
            spread: sea.spread,
          },
        }
      : {};
  const temperature = view.quantities.find(({ quantity }) => quantity === "temperature");
  return (
    <>
      <Top here="home-water" />
      <main id="main" className={css.page}>
        <div className={css.head}>
          <h1>{view.systemName} against its home water</h1>
          <span>
            {view.year} · {homeWords(view)} · {residentWords(view)} · {view.zone}
          </span>
        </div>
        <CompareForm view={view} asked={asked} others={others} />
        <p className={css.headline}>{view.headline}</p>
        <Animals view={view} />
        {typeof sea === "string" && <p className={css.out}>{sea}</p>}
        {sea !== null && typeof sea !== "string" && (
          <p className={css.soft}>
            Blue: {sea.coarse}. {sea.source.temperature}. Shaded: {sea.source.spread}.
          </p>
        )}
        {other ? (
          <div className={css.pair}>
            {[view, other].map((each) => (
              <section key={`${each.system}/${each.year}`} aria-label={`${each.systemName}, ${each.year}`}>
                <Heading view={each} />
                {each !== view && <p className={css.soft}>{each.headline}</p>}
                <Drawings view={each} />
                <FitTable view={each} />
                <Beside view={each} />
              </section>
            ))}
          </div>
        ) : (
          <>
            <h2 className="unseen">{view.systemName} over the year</h2>
            <div className={css.grid}>
              <div>
                <Drawings view={view} native={native} />
              </div>
              <div>
                <Beside view={view} />
                <SeasonPanel
                  system={view.system}
                  zone={view.zone}
                  plan={temperature?.plan ?? null}
                  unitLabel={temperature?.unitLabel ?? "°C"}
                  decimals={temperature?.decimals ?? 1}
                  mayAdopt={me.rights.includes("change-band")}
                />
              </div>
            </div>
            <FitTable view={view} />
            <Sources quantities={view.quantities} />
          </>
        )}
      </main>
    </>
  );
}
