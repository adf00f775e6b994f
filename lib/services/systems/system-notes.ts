/** What has to be read beside a system's standing: residents without a common range, and alarms that logged work keeps from ringing now. */
import type { SystemNote } from "#contract/views.ts";
import { isAbout, type MuteWindow, muteWindowsOf } from "#core/evaluate/mute-windows.ts";
import { bandFor, noCommonRangeWords, rangesWithoutCommon } from "#core/habitat/index.ts";
import { inForce, type LogEntry } from "#core/logbook/entry.ts";
import { logKind } from "#core/logbook/kinds.ts";
import { muteWords } from "#core/logbook/mute-words.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import type { Store, Stream } from "#store/port.ts";
import type { SystemSetUp } from "../set-up.ts";

const MANY = 10_000;

/** Log entries that may keep something quiet now: no window lasts longer than a day. */
export const readQuietLog = (store: Store, now: Instant, systems?: readonly string[]) =>
  store.readLog({ from: now - DAY, to: now + 1, limit: MANY, ...(systems && { systems }) });

/** A window that mutes alarms now, in words. One that is over, or has not begun, is none. */
export interface QuietNow {
  readonly window: MuteWindow;
  readonly says: string;
  readonly until: string;
}

export function quietNow(at: SystemSetUp, log: readonly LogEntry[], now: Instant): QuietNow[] {
  const own = log.filter((entry) => inForce(entry).systems.includes(at.system.id));
  const clock = clockOf(at.site.zone);
  return muteWindowsOf(own)
    .filter(({ from, until }) => from <= now && now < until)
    .map((window) => {
      const entry = own.find(({ root }) => root === window.root);
      const kind = entry ? inForce(entry).kind : "";
      const until = clock.near(window.until, now);
      const what = [...new Set(window.rules.map(muteWords))].join(", ");
      return {
        window,
        until,
        says: `${logKind(kind)?.label ?? kind} logged: alarms muted until ${until} for ${what}.`,
      };
    });
}

/** Until when alarms of a stream are muted, in words; undefined where none is. */
export function mutedWords(quiet: readonly QuietNow[], stream: Stream): string | undefined {
  const last = quiet
    .filter(({ window }) => window.rules.some((rule) => isAbout(rule, stream)))
    .toSorted((a, b) => b.window.until - a.window.until)[0];
  return last && `Alarms muted until ${last.until}.`;
}

/** Why a quantity at a stream's point has no target; undefined where it has one, or nothing is set. */
export function noTargetWords(at: SystemSetUp, stream: Stream, now: Instant): string | undefined {
  const band = bandFor(at.bands, at.system.id, stream.quantity, stream.pointCode, now);
  const ranges = band && rangesWithoutCommon(band, now, at.site.zone);
  if (!ranges) return undefined;
  const names = new Map(at.residents.map(({ species, speciesName }) => [species, speciesName]));
  return noCommonRangeWords(stream.quantity, ranges, (species) => names.get(species) ?? species);
}

export function systemNotes(at: SystemSetUp, quiet: readonly QuietNow[], now: Instant): SystemNote[] {
  const untargeted = at.streams.flatMap((stream) => noTargetWords(at, stream, now) ?? []);
  return [
    ...[...new Set(untargeted)].map((says): SystemNote => ({ kind: "no common range", says })),
    ...quiet.map(({ says }): SystemNote => ({ kind: "alarms muted", says })),
  ];
}
