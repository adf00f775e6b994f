/** The one table of what the API offers; the OpenAPI document is made from it and each route handler implements one row. */
import {
  alarmsView,
  benchAnswer,
  healthView,
  readingsAnswer,
  rejectedView,
  unclaimedView,
} from "./answers.ts";
import {
  alarmsQuery,
  benchRequest,
  limitQuery,
  liveQuery,
  overnightQuery,
  readingsRequest,
  seriesQuery,
  workingQuery,
} from "./api.ts";
import { arrivalsQuery, arrivalsView } from "./arrivals.ts";
import { benchWaterQuery, benchWaterView } from "./bench-water.ts";
import { ENDPOINTS_OF_CLOCKS } from "./clocks.ts";
import type { Endpoint } from "./endpoint.ts";
import { ENDPOINTS_OF_HABITAT } from "./endpoints-of-habitat.ts";
import { ENDPOINTS_OF_HOME_WATER } from "./endpoints-of-home-water.ts";
import { ENDPOINTS_OF_IMPORTS } from "./endpoints-of-imports.ts";
import { ENDPOINTS_OF_PEOPLE } from "./endpoints-of-people.ts";
import { ENDPOINTS_OF_PROBES } from "./endpoints-of-probes.ts";
import { ENDPOINTS_OF_FORECAST } from "./forecast.ts";
import { ENDPOINTS_OF_INCIDENTS } from "./incidents.ts";
import { sumAnswer, sumRequest, sumsView } from "./sum-views.ts";
import { liveEvent, overnightView, seriesView, systemState, systemsView } from "./views.ts";
import { derivedNowView, workingView } from "./working-views.ts";

export type { Endpoint } from "./endpoint.ts";

const json = { media: "application/json", open: false } as const;

export const ENDPOINTS = {
  health: {
    ...json,
    method: "get",
    path: "/health",
    summary: "Whether the store answers; for callers who may read, how far evaluation has come",
    answer: healthView,
    open: true,
  },
  systems: {
    ...json,
    method: "get",
    path: "/systems",
    summary: "Every system and its state, worst first",
    answer: systemsView,
  },
  system: {
    ...json,
    method: "get",
    path: "/systems/{system}",
    summary: "One system now",
    answer: systemState,
  },
  state: {
    ...json,
    method: "get",
    path: "/systems/{system}/state",
    summary: "One system now: the newest believed value of each stream and its verdict",
    answer: systemState,
  },
  series: {
    ...json,
    method: "get",
    path: "/systems/{system}/series",
    summary: "One quantity over a range in columns, bounded, with the bands in force",
    query: seriesQuery,
    answer: seriesView,
  },
  working: {
    ...json,
    method: "get",
    path: "/systems/{system}/working",
    summary:
      "How one derived value was calculated: equation, inputs with time and flag, steps, interval, source",
    query: workingQuery,
    answer: workingView,
  },
  derived: {
    ...json,
    method: "get",
    path: "/systems/{system}/derived",
    summary: "Everything that can be computed about a system's water now, stored or not",
    answer: derivedNowView,
  },
  overnight: {
    ...json,
    method: "get",
    path: "/overnight",
    summary: "What moved, what is not known, what is calm, how complete the readings are",
    query: overnightQuery,
    answer: overnightView,
  },
  alarms: {
    ...json,
    method: "get",
    path: "/alarms",
    summary: "Alarms, worst first",
    query: alarmsQuery,
    answer: alarmsView,
  },
  bench: {
    ...json,
    method: "post",
    path: "/bench-tests",
    summary: "Store one bench test, once per client id",
    body: benchRequest,
    answer: benchAnswer,
  },
  benchWater: {
    ...json,
    method: "get",
    path: "/systems/{system}/bench-water",
    summary: "The water at the time of a sample, as used to compute its ammonia and oxygen",
    query: benchWaterQuery,
    answer: benchWaterView,
  },
  readings: {
    ...json,
    method: "post",
    path: "/readings",
    summary: "Store readings in one durable commit",
    body: readingsRequest,
    answer: readingsAnswer,
  },
  arrivals: {
    ...json,
    method: "get",
    path: "/arrivals",
    summary:
      "How readings arrived: gaps by sequence number, completeness of each stream, clocks of the senders",
    query: arrivalsQuery,
    answer: arrivalsView,
  },
  rejected: {
    ...json,
    method: "get",
    path: "/rejected",
    summary: "Messages that could not be read, with the reason",
    query: limitQuery,
    answer: rejectedView,
  },
  unclaimed: {
    ...json,
    method: "get",
    path: "/unclaimed",
    summary: "Topics that name a site, system or point which is not set up",
    query: limitQuery,
    answer: unclaimedView,
  },
  sums: {
    ...json,
    method: "get",
    path: "/sums",
    summary: "Sums (calculators): what each asks for, in which units, and what it gives",
    answer: sumsView,
  },
  sum: {
    ...json,
    method: "post",
    path: "/sums/{name}",
    summary: "Run one sum: the answer with its working and its cautions; nothing is stored",
    body: sumRequest,
    answer: sumAnswer,
  },
  live: {
    ...json,
    method: "get",
    path: "/live",
    summary:
      "Server-sent events with the full state of each system that changed; each event's data is one of these",
    query: liveQuery,
    answer: liveEvent,
    media: "text/event-stream",
  },
  ...ENDPOINTS_OF_HOME_WATER,
  ...ENDPOINTS_OF_PEOPLE,
  ...ENDPOINTS_OF_IMPORTS,
  ...ENDPOINTS_OF_CLOCKS,
  ...ENDPOINTS_OF_PROBES,
  ...ENDPOINTS_OF_HABITAT,
  ...ENDPOINTS_OF_INCIDENTS,
  ...ENDPOINTS_OF_FORECAST,
  openapi: {
    ...json,
    method: "get",
    path: "/openapi.json",
    summary: "This document",
    answer: null,
    open: true,
  },
} as const satisfies Record<string, Endpoint>;

export type EndpointName = keyof typeof ENDPOINTS;
