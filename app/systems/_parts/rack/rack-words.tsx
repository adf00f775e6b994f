import { Mark } from "#app/_components/strip/mark.tsx";
import css from "./systems-live.module.css";

/** What the marks and lines of the rack mean. */
export function RackLegend() {
  return (
    <p className={css.legend}>
      <span>
        <Mark seen="calm" /> in band
      </span>
      <span>
        <Mark seen="look" /> wants a look
      </span>
      <span>
        <Mark seen="action" /> needs action
      </span>
      <span>
        <Mark seen="doubtful" /> not known, or not to be believed
      </span>
      <span>
        shaded: target · tick: action limit · dots: no limit · bar: since 18:00 · arrow: in 2 h · dash above:
        plan · tap a row for numbers
      </span>
    </p>
  );
}

/** Instead of a rack where no system has sent anything. */
export function NoSystems() {
  return (
    <div className={css.nothing}>
      <h2>No system has sent anything yet</h2>
      <p>
        Publish a first reading to the broker. A number is enough; the topic says what it is, and a system
        that is set up appears here as soon as it arrives.
      </p>
      <pre>homewater/&lt;site&gt;/&lt;system&gt;/&lt;point&gt;/&lt;quantity&gt;</pre>
      <p>
        For example <code>homewater/north/kelp-gallery/display/temperature</code> with payload{" "}
        <code>15.6</code>. To look around first, stop this and run <code>npm run demo</code>: it sets up a
        site that plays a night.
      </p>
    </div>
  );
}
