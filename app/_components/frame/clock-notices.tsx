import type { ClockView } from "#contract/clocks.ts";
import css from "./clock-notices.module.css";

/** Senders whose clock is wrong: what they sent is not what it looks like. Drawn by the server: it needs no script. */
export function ClockNotices({ clocks }: { readonly clocks: readonly ClockView[] }) {
  if (clocks.length === 0) return null;
  return (
    <section className={css.notices} aria-label="Clocks of senders" data-clocks="">
      {clocks.map((clock) => (
        <p key={clock.id} data-clock={clock.state}>
          <b>Clock:</b> {clock.says}{" "}
          {clock.state === "held" && <a href="/rejected#clocks">Place them at the corrected time</a>}
          {clock.state === "placed" && <a href="/rejected#clocks">See it, or take it back</a>}
        </p>
      ))}
    </section>
  );
}
