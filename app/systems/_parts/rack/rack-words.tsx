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
        <Mark seen="look" /> needs a look
      </span>
      <span>
        <Mark seen="action" /> needs action
      </span>
      <span>
        <Mark seen="doubtful" /> not known, or suspect
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
        Publish a reading to the broker. A plain number is enough: the topic says what it measures. A system
        that is set up appears here as soon as its first reading arrives.
      </p>
      <pre>homewater/&lt;site&gt;/&lt;system&gt;/&lt;point&gt;/&lt;quantity&gt;</pre>
      <p>
        For example <code>homewater/north/kelp-gallery/display/temperature</code> with payload{" "}
        <code>15.6</code>. To look around first, stop this and run <code>npm run demo</code>: it sets up a
        demo site and plays one night.
      </p>
    </div>
  );
}
