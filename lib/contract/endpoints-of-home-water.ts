/** What the API offers about home water: the native range and how near a system is to it. */
import type * as z from "zod";
import { animalWaterQuery, animalWaterView } from "./animal-water.ts";
import type { Endpoint } from "./endpoint.ts";
import { habitatAnswer } from "./habitat.ts";
import { homeWaterListView, homeWaterQuery, homeWaterView } from "./home-water.ts";
import {
  adoptedAnswer,
  adoptSeasonRequest,
  homeWaterFileRequest,
  homeWaterLookRequest,
  homeWaterLookView,
  homeWaterSeriesListView,
  homeWaterSeriesRequest,
  seasonProposalQuery,
  seasonProposalView,
  withdrawRequest,
} from "./home-water-forms.ts";
import { lightPlanRequest, lightPlansView, withdrawLightPlanRequest } from "./light-plans.ts";
import { nativeWaterQuery, nativeWaterView } from "./native-water.ts";

const json = { media: "application/json", open: false } as const;

export const ENDPOINTS_OF_HOME_WATER = {
  nativeWater: {
    ...json,
    method: "get",
    path: "/native-water",
    summary:
      "Twelve months of the sea around a place: temperature, salinity, day length, and which box they are of",
    query: nativeWaterQuery,
    answer: nativeWaterView,
  },
  homeWaterList: {
    ...json,
    method: "get",
    path: "/home-water",
    summary: "How close every running system came to its animals' native range in a year",
    query: homeWaterQuery,
    answer: homeWaterListView,
  },
  homeWater: {
    ...json,
    method: "get",
    path: "/home-water/{system}",
    summary:
      "One system against its residents' native range: ranges by species and month, fit, light, conflicts, plan, sources",
    query: homeWaterQuery,
    answer: homeWaterView,
  },
  homeWaterTable: {
    ...json,
    method: "get",
    path: "/home-water/{system}/table",
    summary: "The months of home water as CSV: range, its sources, water and fit, a row a month and range",
    query: homeWaterQuery,
    answer: null,
    media: "text/csv",
  },
  animalWater: {
    ...json,
    method: "get",
    path: "/animals/{animal}/water",
    summary:
      "The water one animal or group lived in, through every system: by month the range, what was measured, and the share of time inside its own range",
    query: animalWaterQuery,
    answer: animalWaterView,
  },
  animalWaterTable: {
    ...json,
    method: "get",
    path: "/animals/{animal}/water/table",
    summary: "The same as CSV, a row a system, quantity and month",
    query: animalWaterQuery,
    answer: null,
    media: "text/csv",
  },
  seasonProposal: {
    ...json,
    method: "get",
    path: "/home-water/{system}/season",
    summary: "Propose set-points by week that follow home water within band and rate; people decide",
    query: seasonProposalQuery,
    answer: seasonProposalView,
  },
  adoptSeason: {
    ...json,
    method: "post",
    path: "/systems/{system}/season-plans",
    summary: "Adopt set-points by week; the previous plan ends and stays readable",
    body: adoptSeasonRequest,
    answer: adoptedAnswer,
  },
  setLightPlan: {
    ...json,
    method: "post",
    path: "/systems/{system}/light-plans",
    summary: "Set the light schedule from an instant on",
    body: lightPlanRequest,
    answer: habitatAnswer,
  },
  lightPlans: {
    ...json,
    method: "get",
    path: "/systems/{system}/light-plans",
    summary: "Light schedules of a system, in force or not, who set them and why, and what is planned today",
    answer: lightPlansView,
  },
  withdrawLightPlan: {
    ...json,
    method: "post",
    path: "/light-plans/{plan}/withdraw",
    summary: "Withdraw a light schedule: the one it replaced is in force again",
    body: withdrawLightPlanRequest,
    answer: habitatAnswer,
  },
  addHomeWaterSeries: {
    ...json,
    method: "post",
    path: "/home-water-series",
    summary:
      "Load twelve months of your own home water data; near its place it is used instead of the climatology",
    body: homeWaterSeriesRequest,
    answer: adoptedAnswer,
  },
  homeWaterSeriesList: {
    ...json,
    method: "get",
    path: "/home-water-series",
    summary: "The team's own home water data, newest first, including what was withdrawn",
    answer: homeWaterSeriesListView,
  },
  tryHomeWaterFile: {
    ...json,
    method: "post",
    path: "/home-water-series/look",
    summary:
      "Preview a CSV from a logger or shore station: the home water data it gives and the rows that would be refused; nothing is stored",
    body: homeWaterLookRequest,
    answer: homeWaterLookView,
  },
  loadHomeWaterFile: {
    ...json,
    method: "post",
    path: "/home-water-series/file",
    summary: "Load a CSV from a logger or shore station as your own home water data",
    body: homeWaterFileRequest,
    answer: adoptedAnswer,
  },
  withdrawHomeWaterSeries: {
    ...json,
    method: "post",
    path: "/home-water-series/{series}/withdraw",
    summary: "Withdraw a series of your own home water data",
    body: withdrawRequest,
    answer: adoptedAnswer,
  },
} as const satisfies Record<string, Endpoint>;

export const NAMED_OF_HOME_WATER: Readonly<Record<string, z.ZodType>> = {
  AnimalWater: animalWaterView,
  NativeWater: nativeWaterView,
  HomeWater: homeWaterView,
  HomeWaterList: homeWaterListView,
  SeasonProposal: seasonProposalView,
  AdoptSeason: adoptSeasonRequest,
  LightPlan: lightPlanRequest,
  LightPlans: lightPlansView,
  WithdrawLightPlan: withdrawLightPlanRequest,
  HomeWaterSeries: homeWaterSeriesRequest,
  HomeWaterSeriesList: homeWaterSeriesListView,
  LookAtHomeWater: homeWaterLookRequest,
  HomeWaterLook: homeWaterLookView,
  LoadHomeWater: homeWaterFileRequest,
  WithdrawSeries: withdrawRequest,
  Adopted: adoptedAnswer,
};
