/** What roles of points are called, and what belongs to each: for those who choose one. Apart from what hangs on them, which every screen needs. */
import type { PointRole } from "./point-role.ts";

export const POINT_ROLE_WORDS: Readonly<
  Record<PointRole, { readonly label: string; readonly hint: string }>
> = {
  exhibit: { label: "Exhibit", hint: "the water the animals live in" },
  sump: { label: "Sump", hint: "its level shows what the whole system gains or loses" },
  filter: { label: "Filter", hint: "in a filter or at its outlet" },
  "contact-chamber": {
    label: "Contact chamber",
    hint: "where ozone meets the water; ORP there follows the ozone controller",
  },
  "make-up": { label: "Make-up", hint: "new water, before it is in the system" },
  "loop-supply": { label: "Loop supply", hint: "a chilled or heated loop, on its way to the system" },
  "loop-return": { label: "Loop return", hint: "a chilled or heated loop, on its way back" },
  "plant-room": { label: "Plant room", hint: "sample lines, panels and the barometer in the plant room" },
  "room-air": { label: "Room air", hint: "air of the hall or the plant room, no water" },
  equipment: { label: "Equipment", hint: "a pump, float, valve, chiller or heater" },
  other: { label: "Other", hint: "anywhere else in the system's water" },
};
