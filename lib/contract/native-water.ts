/** What is asked and answered about native water by coordinates. */
import * as z from "zod";

export const nativeWaterQuery = z.strictObject({
  latitude: z.number().min(-90).max(90).describe("degrees, north positive"),
  longitude: z.number().min(-180).max(180).describe("degrees, east positive"),
  depth: z
    .number()
    .optional()
    .describe("metres below the surface: 0, 20, 50, 100 or 200; default: the surface"),
});
export type NativeWaterQuery = z.output<typeof nativeWaterQuery>;

const place = z.object({ latitude: z.number(), longitude: z.number() });
const twelve = z.array(z.number()).length(12);

export const nativeWaterView = z.object({
  asked: place,
  depth: z.number().describe("metres below the surface"),
  box: place.describe("centre of the box that the temperatures come from"),
  distance: z.number().describe("km from the place asked for to the box's centre"),
  temperature: twelve.describe("°C at mid-month, January first"),
  spread: twelve
    .nullable()
    .describe("K by which a second compilation differs in each month; null if it says nothing"),
  salinity: z
    .number()
    .nullable()
    .describe("practical salinity, annual mean at the surface; null if no cell is near"),
  salinityNear: z.array(z.number()).length(2).nullable().describe("lowest and highest value within 150 km"),
  dayLength: twelve.describe(
    "hours from sunrise to sunset on the 15th of each month, at the place asked for",
  ),
  coarse: z.string().describe("what such a box cannot tell"),
  source: z.object({
    temperature: z.string(),
    spread: z.string(),
    salinity: z.string(),
    dayLength: z.string(),
  }),
});
export type NativeWaterView = z.infer<typeof nativeWaterView>;
