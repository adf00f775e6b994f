import { LOG_KIND_IDS, LOG_KINDS, type LogKind } from "#core/logbook/kinds.ts";
import { labelOf } from "#services/systems/finding-view.ts";
import { inSentence } from "../_components/words/overnight-words.ts";
import type { LogChoice } from "./_parts/log-choices.ts";

const PARTS = { rate: "rate of change of ", low: "low ", all: "" } as const;

/** Kinds of entries as the form offers them, with what each keeps quiet in words. */
export function logChoices(): LogChoice[] {
  return LOG_KIND_IDS.map((id) => {
    const kind: LogKind = LOG_KINDS[id];
    const quiet = kind.quiet
      .filter((rule) => rule.quantity !== "own")
      .map((rule) => `${PARTS[rule.part]}${inSentence(labelOf(rule.quantity).label)}`);
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
