import type { ClocksView, ClockView } from "#contract/clocks.ts";
import { PlaceButton } from "./place-button.tsx";
import css from "./rejected.module.css";

function Act({ clock }: { readonly clock: ClockView }) {
  if (!clock.mayPlace)
    return clock.state === "told" ? null : (
      <small>A technician or curator of these systems can place them, or take that back.</small>
    );
  return clock.placement === null ? (
    <PlaceButton
      path={`/clocks/${encodeURIComponent(clock.id)}/place`}
      label="Place these at the corrected time"
    />
  ) : (
    <PlaceButton
      path={`/clock-placements/${encodeURIComponent(clock.placement.id)}/withdraw`}
      label="Take it back"
    />
  );
}

/** Senders whose clock is wrong, and what a person can do about what they sent. */
export function Clocks({ view }: { readonly view: ClocksView }) {
  return (
    <section id="clocks" aria-labelledby="clocks-title">
      <h2 id="clocks-title">Clocks that are wrong</h2>
      <p className={css.about}>
        A reading from the future shows at once that its sender’s clock is ahead. What comes under such a
        clock is kept as it was sent and held. Placed, it counts at its own time less the difference, and so
        does what still comes while the clock stays wrong. Set the sender’s clock right all the same.
      </p>
      {view.clocks.length === 0 ? (
        <p>No sender’s clock is known to be wrong.</p>
      ) : (
        view.clocks.map((clock) => (
          <div key={clock.id} data-clock={clock.state}>
            <p>{clock.says}</p>
            <Act clock={clock} />
          </div>
        ))
      )}
    </section>
  );
}
