/** What the API offers about probes; part of the one table in endpoints.ts. */
import type * as z from "zod";
import type { Endpoint } from "./endpoint.ts";
import {
  calibrationAnswer,
  calibrationRequest,
  calibrationView,
  probeRow,
  probesView,
  probeView,
  voidCalibrationRequest,
} from "./probes.ts";

const common = { media: "application/json", open: false } as const;

export const ENDPOINTS_OF_PROBES = {
  probes: {
    ...common,
    method: "get",
    path: "/probes",
    summary: "Every probe with its health, last and due calibration, most serious first",
    answer: probesView,
  },
  probe: {
    ...common,
    method: "get",
    path: "/streams/{stream}/probe",
    summary:
      "One probe: calibrations, agreement with the bench and its chart, twin, steps that may be a calibration nobody recorded",
    answer: probeView,
  },
  recordCalibration: {
    ...common,
    method: "post",
    path: "/streams/{stream}/calibrations",
    summary: "Record a calibration, cleaning or replacement of a probe, once per client id",
    body: calibrationRequest,
    answer: calibrationAnswer,
  },
  voidCalibration: {
    ...common,
    method: "post",
    path: "/calibrations/{calibration}/void",
    summary: "Mark a calibration as entered by mistake, with its correction; the row stays",
    body: voidCalibrationRequest,
    answer: calibrationAnswer,
  },
} as const satisfies Record<string, Endpoint>;

/** Names of these schemas in the OpenAPI document. */
export const NAMED_OF_PROBES: Readonly<Record<string, z.ZodType>> = {
  ProbeRow: probeRow,
  Probes: probesView,
  Probe: probeView,
  Calibration: calibrationView,
  CalibrationRequest: calibrationRequest,
  VoidCalibrationRequest: voidCalibrationRequest,
  CalibrationAnswer: calibrationAnswer,
};
