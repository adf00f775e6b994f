import css from "#app/_components/drawing/home-water.module.css";
import type { HomeWaterView } from "#contract/home-water.ts";
import { Conflicts } from "./conflicts.tsx";
import { EdgesTable } from "./edges.tsx";
import { LightLength, LightPhase } from "./light-chart.tsx";
import { type NativeLine, RibbonChart } from "./ribbon-chart.tsx";

/** Day of the view's year that is today; null in a year that is over. */
function todayOf({ from, to, now }: HomeWaterView): number | null {
  return to === now ? Math.floor((now - from) / 86_400_000) : null;
}

const plural = (count: number, one: string, many: string) => `${count} ${count === 1 ? one : many}`;

export function residentWords(view: HomeWaterView): string {
  if (view.residents.length === 0) return "no residents";
  const animals = view.residents.reduce((sum, { count }) => sum + count, 0);
  const species = new Set(view.residents.map((each) => each.species)).size;
  return `${plural(animals, "resident", "residents")}, ${species} species`;
}

export function homeWords({ homes }: HomeWaterView): string {
  const [first, ...more] = homes;
  if (!first) return "no home coordinates";
  const side = (value: number, plus: string, minus: string) =>
    `${Math.abs(value)}° ${value < 0 ? minus : plus}`;
  return `${side(first.latitude, "N", "S")} ${side(first.longitude, "E", "W")}${more.length > 0 ? ` and ${more.length} more` : ""}`;
}

/** Whether there is anything to draw: a range, or water that was read. */
const isDrawn = (of: HomeWaterView["quantities"][number]) =>
  of.ribbons.length > 0 || of.common !== null || of.water.some(({ n }) => n > 0);

/** The drawings of one system's year. */
export function Drawings({
  view,
  native = {},
}: {
  readonly view: HomeWaterView;
  readonly native?: Readonly<Record<string, NativeLine>>;
}) {
  const today = todayOf(view);
  const { light } = view;
  return (
    <>
      {view.quantities.map((of) => (
        <section key={of.quantity} className={css.panel}>
          <h3>
            {of.label}
            {of.unitLabel === "" ? "" : `, ${of.unitLabel}`}
          </h3>
          {isDrawn(of) ? (
            <RibbonChart of={of} today={today} native={native[of.quantity] ?? null} />
          ) : (
            <p className={css.soft}>Less than three hours of readings in the year shown.</p>
          )}
          {of.ribbons.length === 0 && !of.common && (
            <p className={css.soft}>
              No resident has a native range for it: the fit below is against the target band.
            </p>
          )}
        </section>
      ))}
      {light && (
        <>
          <section className={css.panel}>
            <h3>Light: length, hours a day</h3>
            <LightLength light={light} from={view.from} today={today} />
            <p className={css.soft}>
              {light.plan === null
                ? "No light plan is set, so day length is not compared with anything."
                : light.plan.latitude === null
                  ? "Filled: the plan ± 15 min."
                  : `Filled: sun above −0.833° at ${light.plan.latitude}°${light.plan.shiftDays === 0 ? "" : `, ${light.plan.shiftDays} days on`} ± 15 min.`}{" "}
              Counted as lit while brighter than half the day’s plateau.
            </p>
          </section>
          {light.plan && (
            <section className={css.panel}>
              <h3>Light: phase, minutes from the planned middle of the day</h3>
              <LightPhase light={light} from={view.from} today={today} />
              <p className={css.soft}>
                Filled: ± 15 min of {light.plan.middle} site time. Length and phase are judged separately.
              </p>
            </section>
          )}
          {light.findings.length > 0 && (
            <ul className={css.findings}>
              {light.findings.slice(-6).map((finding) => (
                <li key={`${finding.kind}/${finding.from}`} data-severity={finding.severity}>
                  {finding.says}
                </li>
              ))}
            </ul>
          )}
        </>
      )}
    </>
  );
}

/** What stands beside the drawings: gaps in words, conflicts, who sets the edges. */
export function Beside({ view }: { readonly view: HomeWaterView }) {
  return (
    <>
      {view.gaps.length > 0 && (
        <section className={css.panel}>
          <h3>Largest gaps</h3>
          <ul className={css.gaps}>
            {view.gaps.map((gap) => (
              <li key={gap}>{gap}</li>
            ))}
          </ul>
        </section>
      )}
      <Conflicts view={view} />
      {view.quantities.map((of) => (
        <EdgesTable key={of.quantity} of={of} />
      ))}
    </>
  );
}
