import type { Metadata } from "next";
import css from "#app/_components/controls/forms.module.css";
import { NoPermission } from "#app/_components/frame/no-permission.tsx";
import { SetUpFrame } from "#app/_components/frame/set-up-frame.tsx";
import { pageAccess } from "#app/_server/page-access.ts";
import { may } from "#core/people/index.ts";
import { displayUnits, QUANTITIES } from "#core/units/index.ts";
import { placeOf } from "#services/permission.ts";
import { headSite } from "#services/systems/read-systems.ts";
import type { ImportChoices } from "../_parts/import/import-draft.ts";
import { ImportSetUp } from "../_parts/import/import-set-up.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Import" };

const QUANTITY_CHOICES: ImportChoices["quantities"] = Object.values(QUANTITIES)
  .map((spec) => ({
    id: spec.id,
    label: spec.label,
    units:
      spec.kind === "state" ? [] : [...new Set([spec.unit, ...displayUnits(spec.id).map((one) => one.unit)])],
  }))
  .sort((a, b) => a.label.localeCompare(b.label, "en"));

export default async function ImportPage() {
  const access = await pageAccess();
  if (!access.may) return <NoPermission why={access.why} />;
  const { deps, actor, me } = access;
  if (!me.rights.includes("import-readings"))
    return <NoPermission why="Only curators can import files. Ask one of them." />;
  const index = await deps.read.setUp.read();
  const systems = index.systems
    .filter((at) => may(actor.grants, "import-readings", placeOf(at)))
    .map(({ system, site, points }) => ({
      system: system.code,
      name: system.name,
      zone: site.zone,
      points: points.map((point) => point.code),
    }))
    .sort((a, b) => a.name.localeCompare(b.name, "en"));
  return (
    <SetUpFrame>
      <h1>Import history from files</h1>
      <p className={css.soft}>
        Years of history from loggers and spreadsheets. You see what would be stored before anything is
        stored, and you can withdraw a whole import later. Times are shown in {headSite(index).zone}.
      </p>
      <ImportSetUp choices={{ systems, quantities: QUANTITY_CHOICES }} zone={headSite(index).zone} />
    </SetUpFrame>
  );
}
