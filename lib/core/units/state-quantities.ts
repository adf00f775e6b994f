import type { StateQuantity } from "./quantity-kinds.ts";

const SOURCE = "Common practice, no source: words of pump, float, leak, supply and panel contacts";

/**
 * Equipment and contact states, by id. What a person did on purpose (stopped, off, isolated) wants at most a look;
 * what happened by itself wants somebody to act.
 */
export const STATE_QUANTITIES = {
  pump: {
    id: "pump",
    kind: "state",
    label: "Pump",
    short: "Pump",
    words: ["running", "stopped", "interlocked", "tripped"],
    wrong: { stopped: "look", interlocked: "action", tripped: "action" },
    source: SOURCE,
  },
  float: {
    id: "float",
    kind: "state",
    label: "Float switch",
    short: "Float",
    words: ["normal", "high", "low"],
    wrong: { high: "action", low: "action" },
    source: SOURCE,
  },
  leak: {
    id: "leak",
    kind: "state",
    label: "Leak sensor",
    short: "Leak",
    words: ["dry", "wet"],
    wrong: { wet: "action" },
    source: SOURCE,
  },
  mains: {
    id: "mains",
    kind: "state",
    label: "Power supply",
    short: "Mains",
    words: ["mains", "generator", "none"],
    wrong: { generator: "action", none: "action" },
    source: SOURCE,
  },
  chiller: {
    id: "chiller",
    kind: "state",
    label: "Chiller",
    short: "Chiller",
    words: ["running", "idle", "fault", "off"],
    wrong: { fault: "action", off: "look" },
    source: SOURCE,
  },
  ozone_generator: {
    id: "ozone_generator",
    kind: "state",
    label: "Ozone generator",
    short: "Ozone",
    words: ["running", "waiting", "cut_out", "off"],
    wrong: { cut_out: "action", off: "look" },
    source: SOURCE,
  },
  uv_lamp: {
    id: "uv_lamp",
    kind: "state",
    label: "UV lamp",
    short: "UV",
    words: ["on", "off", "failed", "expired"],
    wrong: { off: "look", failed: "action", expired: "look" },
    source: SOURCE,
  },
  valve: {
    id: "valve",
    kind: "state",
    label: "Valve between systems",
    short: "Valve",
    words: ["open", "isolated"],
    wrong: {},
    source: SOURCE,
  },
  heater: {
    id: "heater",
    kind: "state",
    label: "Heater",
    short: "Heater",
    words: ["on", "off"],
    wrong: {},
    source: SOURCE,
  },
  panel: {
    id: "panel",
    kind: "state",
    label: "Panel common alarm",
    short: "Panel",
    words: ["clear", "alarm", "line_broken"],
    wrong: { alarm: "action", line_broken: "action" },
    source: SOURCE,
  },
} as const satisfies Record<string, StateQuantity>;
