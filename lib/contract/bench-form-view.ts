/** What the bench form of one system is drawn from: plain data, read once when the page is opened. */

import type { BenchField } from "#core/bench/field.ts";
import type { BandEdges } from "#core/habitat/band.ts";
import type { Place } from "#core/people/index.ts";
import type { Instant } from "#core/time/instant.ts";
import type { LastBenchView } from "./bench-forms.ts";
import type { BenchWaterView } from "./bench-water.ts";

export type LastResult = LastBenchView["quantities"][number]["last"][number];

/** What is known of one quantity at one point. */
export interface FieldHere {
  readonly point: string;
  readonly field: BenchField;
  readonly band: BandEdges | null;
  readonly bandSource: string | null;
  /** Newest first; voided and superseded ones left out. */
  readonly last: readonly LastResult[];
}
export interface BenchFormView {
  readonly now: Instant;
  readonly zone: string;
  readonly siteName: string;
  readonly system: string;
  readonly name: string;
  /** Ids, to ask what a person may do here. */
  readonly place: Place;
  readonly points: readonly string[];
  /** In walking order: what has been tested here or has a band. */
  readonly here: readonly FieldHere[];
  /** Bands of what is only computed, by point. */
  readonly ammoniaBands: readonly { readonly point: string; readonly band: BandEdges }[];
  readonly water: BenchWaterView;
}
