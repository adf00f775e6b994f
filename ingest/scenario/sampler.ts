/** What each stream of a scenario reads at any instant: compiled once per anchor into one closure a stream. */
import type { Instant } from "#core/time/index.ts";
import { quantity } from "#core/units/index.ts";
import { openClock, type ScenarioClock } from "./clock.ts";
import { type StateCourse, stateCourse } from "./equipment.ts";
import { type Place, placeKey, type Scenario, type ScenarioChannel, type ScenarioStream } from "./load.ts";
import { bell, seedOf } from "./noise.ts";
import { type Course, ordinaryCourse } from "./ordinary.ts";
import { type ConductivityGrid, openConductivityGrid, oxygenAt } from "./sea-water.ts";
import { noiseFactor, withTrack } from "./track.ts";

/** The reading at an instant in the registry's unit (a state: the number of its word), null where the probe is silent. */
type Sample = (at: Instant) => number | null;

export interface Compiled {
  readonly clock: ScenarioClock;
  /** One per stream, in the order of streams.json. */
  readonly samples: readonly Sample[];
  /** The state courses, by stream index; numbers have none. */
  readonly states: ReadonlyMap<number, StateCourse>;
  /** When a reading arrives: `at`, but for the late block. */
  readonly deliveredAt: (stream: number, at: Instant) => Instant;
}

/** Change of raw conductivity with salinity, mS/cm, near 20 Cel: carries the salinity channel's noise over to the cell. */
const CONDUCTIVITY_PER_SALINITY = 1.4;

/** A light sensor still flickers in the dark, lx; without it a night would look like a stuck channel. */
const DARK_NOISE_LX = 0.15;

/** Compiles a scenario for an anchor (local midnight of D1). Throws RangeError where a stream has no course. */
export function compile(scenario: Scenario, anchor: Instant): Compiled {
  const clock = openClock(scenario.site.zone, anchor);
  const courses = openCourses(scenario, clock, openConductivityGrid());
  const states = new Map<number, StateCourse>();
  const samples = scenario.streams.map((stream, index): Sample => {
    if (quantity(stream.quantity)?.kind !== "state") return numberSample(stream, scenario, clock, courses);
    const state = stateCourse(stream, scenario, clock);
    states.set(index, state);
    return state.stateAt;
  });
  const late = scenario.course.late.map((block) => ({
    stream: scenario.streams.findIndex((s) => placeKey(s) === placeKey(block)),
    from: clock.instantOf(block.from),
    to: clock.instantOf(block.to),
    deliveredAt: clock.instantOf(block.deliveredAt),
  }));
  return {
    clock,
    samples,
    states,
    deliveredAt: (stream, at) =>
      late.find((b) => b.stream === stream && at >= b.from && at < b.to)?.deliveredAt ?? at,
  };
}

const compiled = new WeakMap<Scenario, Map<Instant, Compiled>>();

/** Like compile, remembering the last answers for the same scenario object. */
export function compiledFor(scenario: Scenario, anchor: Instant): Compiled {
  const known = compiled.get(scenario) ?? new Map<Instant, Compiled>();
  compiled.set(scenario, known);
  const found = known.get(anchor) ?? compile(scenario, anchor);
  known.set(anchor, found);
  return found;
}

/**
 * What a stream (its index in streams.json) reads at an instant, whatever was asked before: a number in the registry's
 * unit, the number of a state's word, or null where the probe is silent. Throws RangeError for an unknown stream.
 */
export function valueAt(scenario: Scenario, stream: number, at: Instant, anchor: Instant): number | null {
  const sample = compiledFor(scenario, anchor).samples[stream];
  if (!sample) throw new RangeError(`no stream ${stream}; there are ${scenario.streams.length}`);
  return sample(at);
}

type Courses = (place: Place) => { readonly course: Course; readonly noise: number };

function openCourses(scenario: Scenario, clock: ScenarioClock, conductivity: ConductivityGrid): Courses {
  const channels = new Map(scenario.water.channels.map((c) => [placeKey(c), c]));
  const known = new Map<string, ReturnType<Courses>>();
  const fresh = new Set(scenario.systems.filter((s) => s.water === "fresh").map((s) => s.code));

  const courseOf: Courses = (place) => {
    const key = placeKey(place);
    let found = known.get(key);
    if (!found) {
      const base = baseOf(place);
      const tracks = scenario.course.tracks.filter((t) => placeKey(t) === key);
      found = {
        course: tracks.reduce((course, track) => withTrack(course, track, clock), base.course),
        noise: base.noise,
      };
      known.set(key, found);
    }
    return found;
  };
  const beside = (place: Place, id: string) => courseOf({ ...place, quantity: id });
  const ownOf = (channel: ScenarioChannel) => {
    const course = channel.follows
      ? courseOf({ system: channel.follows, point: channel.point, quantity: channel.quantity }).course
      : ordinaryCourse(channel, scenario, clock);
    return { course, noise: channel.noise };
  };
  const baseOf = (place: Place): ReturnType<Courses> => {
    const channel = channels.get(placeKey(place));
    if (channel) return ownOf(channel);
    if (place.quantity === "conductivity") {
      const salinity = beside(place, "salinity");
      const temperature = beside(place, "temperature").course;
      return {
        course: (at) => conductivity(salinity.course(at), temperature(at)),
        noise: salinity.noise * CONDUCTIVITY_PER_SALINITY,
      };
    }
    if (place.quantity === "dissolved_oxygen") {
      const share = beside(place, "oxygen_saturation");
      const temperature = beside(place, "temperature").course;
      const salinity = fresh.has(place.system) ? () => 0 : beside(place, "salinity").course;
      return {
        course: (at) => oxygenAt(share.course(at), temperature(at), salinity(at)),
        // One percent of saturation is about 0.1 mg/L in cool fresh water.
        noise: share.noise * 0.1,
      };
    }
    throw new RangeError(`${placeKey(place)} has no channel in water.json`);
  };
  return courseOf;
}

function numberSample(
  stream: ScenarioStream,
  scenario: Scenario,
  clock: ScenarioClock,
  courses: Courses,
): Sample {
  const key = placeKey(stream);
  const { course, noise } = courses(stream);
  const factor = noiseFactor(
    scenario.course.tracks.filter((t) => placeKey(t) === key),
    clock,
  );
  const seed = seedOf(`noise ${key}`);
  const scale = 10 ** stream.decimals;
  const relative = stream.quantity === "illuminance";
  const within = <S extends { from: string; to: string } & Place>(spans: readonly S[]) =>
    spans
      .filter((s) => placeKey(s) === key)
      .map((s) => ({ ...s, from: clock.instantOf(s.from), to: clock.instantOf(s.to) }));
  const silences = within(scenario.course.silences);
  const flats = within(scenario.course.flats);
  return (at) => {
    for (const silence of silences) if (at >= silence.from && at < silence.to) return null;
    for (const flat of flats) if (at >= flat.from && at < flat.to) return flat.value;
    const truth = course(at);
    const spread = relative ? truth * noise + DARK_NOISE_LX : noise * factor(at);
    return Math.round((truth + spread * bell(seed, at)) * scale) / scale;
  };
}
