import { dayWords, poolWords, watchWords, whoWords } from "#app/_components/words/habitat-words.ts";
import type { ResidentsView, StayView, WatchView } from "#contract/habitat.ts";
import { clockOf, type ZoneClock } from "#core/time/zone-clock.ts";
import css from "./living-here.module.css";

/** More than these are folded. */
const MOST = 8;

function Stay({ stay, clock }: { readonly stay: StayView; readonly clock: ZoneClock }) {
  const number = stay.name === null || stay.count === 1 ? "" : ` · ${stay.count} animals`;
  return (
    <li data-stay={stay.id}>
      <a href={`/animals/${encodeURIComponent(stay.animal)}`}>{whoWords(stay)}</a>
      <small>
        {stay.stage}
        {stay.sex === null ? "" : `, ${stay.sex}`}
        {number} · since {dayWords(stay.from, clock, "")}
        {stay.hasProfile ? "" : " · no profile: its needs are not known"}
      </small>
    </li>
  );
}

function Watch({ watch, clock }: { readonly watch: WatchView; readonly clock: ZoneClock }) {
  return (
    <li data-watch={watch.id} data-watched={watch.watched || undefined}>
      <p>
        <b>{watch.who}</b>: {watch.kind === "gestation" ? "birth" : "hatching"} expected,{" "}
        {watchWords(watch, clock)}
      </p>
      <p className={css.soft}>
        {watch.watched
          ? "Now: no set-point ramps or planned catch-ups; count every night; check overflow and suction guards; have the pup pool cycled and at the mother’s temperature and salinity."
          : "Once the window opens: no set-point ramps or planned catch-ups."}{" "}
        {watch.shortestDays} to {watch.longestDays} days ({watch.source}).
      </p>
      {watch.kind === "gestation" && (
        <p className={css.soft} data-pup-pool={watch.pool?.system ?? ""}>
          {poolWords(watch.pool)}
        </p>
      )}
    </li>
  );
}

/** Who lives in a system, and the breeding watches that count there. Drawn by the server: it needs no script. */
export function LivingHere({
  view,
}: {
  readonly view: Pick<ResidentsView, "zone" | "system" | "residents" | "watches">;
}) {
  const clock = clockOf(view.zone);
  const open = view.watches.filter((watch) => watch.stand !== "ended");
  const [first, rest] = [view.residents.slice(0, MOST), view.residents.slice(MOST)];
  const list = (stays: readonly StayView[]) => (
    <ul className={css.stays}>
      {stays.map((stay) => (
        <Stay key={stay.id} stay={stay} clock={clock} />
      ))}
    </ul>
  );
  return (
    <section aria-labelledby="living-here" className={css.living} data-living="">
      <h2 id="living-here">Residents</h2>
      {view.residents.length === 0 ? (
        <p className={css.soft}>
          No residents.{" "}
          <a href={`/set-up/systems/${encodeURIComponent(view.system)}#residents`}>Add them in Set-up</a>
        </p>
      ) : (
        list(first)
      )}
      {rest.length > 0 && (
        <details>
          <summary>{rest.length} more</summary>
          {list(rest)}
        </details>
      )}
      <p className="no-print">
        <a href={`/calendar?system=${encodeURIComponent(view.system)}`}>Calendar of this system</a>
      </p>
      {open.length > 0 && (
        <>
          <h3>Breeding watches</h3>
          <ul className={css.watches}>
            {open.map((watch) => (
              <Watch key={watch.id} watch={watch} clock={clock} />
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
