import { describe } from "vitest";
import { describeAppend } from "./contract/append.ts";
import { describeBench } from "./contract/bench.ts";
import { describeCalibrations } from "./contract/calibrations.ts";
import { describeClocks } from "./contract/clocks.ts";
import { describeEvaluation } from "./contract/evaluation.ts";
import { describeHabitat } from "./contract/habitat.ts";
import { describePeople } from "./contract/people.ts";
import { describeReading } from "./contract/reading.ts";
import { describeRecords } from "./contract/records.ts";
import { describeRefused } from "./contract/refused.ts";
import { describeSetUp } from "./contract/set-up.ts";
import type { OpenSubject } from "./contract/subject.ts";
import { describeTallies } from "./contract/tallies.ts";

/** What every store must do, whatever it stands on. */
export function describeStore(name: string, open: OpenSubject): void {
  describe(`${name}: set-up`, () => describeSetUp(open));
  describe(`${name}: append`, () => describeAppend(open));
  describe(`${name}: rejected and unclaimed`, () => describeRefused(open));
  describe(`${name}: bench tests`, () => describeBench(open));
  describe(`${name}: evaluation`, () => describeEvaluation(open));
  describe(`${name}: what people do`, () => describeRecords(open));
  describe(`${name}: probes`, () => describeCalibrations(open));
  describe(`${name}: clocks of senders`, () => describeClocks(open));
  describe(`${name}: homes of animals`, () => describeHabitat(open));
  describe(`${name}: people`, () => describePeople(open));
  describe(`${name}: tallies of stretches`, () => describeTallies(open));
  describe(`${name}: reading`, () => describeReading(open));
}
