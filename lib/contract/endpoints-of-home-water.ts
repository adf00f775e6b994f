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
    summary: "How near every running system was to its animals' home in a year",
    query: homeWaterQuery,
    answer: homeWaterListView,
  },
  homeWater: {
    ...json,
    method: "get",
    path: "/home-water/{system}",
    summary:
      "One system against its residents' home: ranges by species and month, fit, light, conflicts, plan, sources",
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
      "The water one animal or group lived in, through every system: by month how it lay, what was read, share inside its own range",
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
    summary: "Set-points by week that follow home water within band and rate; a proposal to people",
    query: seasonProposalQuery,
    answer: seasonProposalView,
  },
  adoptSeason: {
    ...json,
    method: "post",
    path: "/systems/{system}/season-plans",
    summary: "Adopt set-points by week; the plan before ends and stays readable",
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
    summary: "Withdraw a light schedule: the one that it ended goes on in its place",
    body: withdrawLightPlanRequest,
    answer: habitatAnswer,
  },
  addHomeWaterSeries: {
    ...json,
    method: "post",
    path: "/home-water-series",
    summary: "Load twelve months of a home water of one's own; it comes before the climatology near it",
    body: homeWaterSeriesRequest,
    answer: adoptedAnswer,
  },
  homeWaterSeriesList: {
    ...json,
    method: "get",
    path: "/home-water-series",
    summary: "Home waters of the team's own, newest first, the withdrawn ones too",
    answer: homeWaterSeriesListView,
  },
  tryHomeWaterFile: {
    ...json,
    method: "post",
    path: "/home-water-series/look",
    summary:
      "What a CSV of a logger or shore station would become, and which rows would be refused; nothing is stored",
    body: homeWaterLookRequest,
    answer: homeWaterLookView,
  },
  loadHomeWaterFile: {
    ...json,
    method: "post",
    path: "/home-water-series/file",
    summary: "Load a CSV of a logger or shore station as a home water of one's own",
    body: homeWaterFileRequest,
    answer: adoptedAnswer,
  },
  withdrawHomeWaterSeries: {
    ...json,
    method: "post",
    path: "/home-water-series/{series}/withdraw",
    summary: "Withdraw a series of one's own",
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
