import { LOG_KIND_IDS, LOG_KINDS, type LogKind } from "#core/logbook/kinds.ts";
import { muteWords } from "#core/logbook/mute-words.ts";
import type { LogChoice } from "./_parts/log-choices.ts";

/** Kinds of entries as the form offers them, with what each keeps quiet in words. */
export function logChoices(): LogChoice[] {
  return LOG_KIND_IDS.map((id) => {
    const kind: LogKind = LOG_KINDS[id];
    const quiet = kind.quiet.filter((rule) => rule.quantity !== "own").map(muteWords);
    return {
      id,
      label: kind.label,
      lasts: kind.lasts,
      capMinutes: kind.capMinutes,
      quiet: [...new Set(quiet)].join(", "),
      isOfOne: kind.quiet.some((rule) => rule.quantity === "own"),
    };
  });
}
