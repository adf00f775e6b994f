import { calendarQuery, calendarView } from "./calendar.ts";
import type { Endpoint } from "./endpoint.ts";
import {
  addFromLibraryRequest,
  birthRequest,
  compromiseRequest,
  confirmBandRequest,
  correctStayRequest,
  exportQuery,
  habitatAnswer,
  importProfileRequest,
  moveInRequest,
  moveRequest,
  openWatchRequest,
  profilesView,
  profileView,
  residentsView,
  saveProfileRequest,
  stageRequest,
  watchEventBody,
  withdrawCompromiseRequest,
} from "./habitat.ts";

import { nightCountAnswer, nightCountRequest, nightCountsView } from "./night-counts.ts";

const json = { media: "application/json", open: false } as const;
const changes = { ...json, method: "post", answer: habitatAnswer } as const;

/** Profiles, residents, compromises and breeding watches. */
export const ENDPOINTS_OF_HABITAT = {
  calendar: {
    ...json,
    method: "get",
    path: "/calendar",
    summary:
      "Calendar of a month: breeding windows, stages, births, adopted set-points, calibrations due, declared work",
    query: calendarQuery,
    answer: calendarView,
  },
  profiles: {
    ...json,
    method: "get",
    path: "/profiles",
    summary: "Species with their habitat profiles, where they live, and the library",
    answer: profilesView,
  },
  addFromLibrary: {
    ...changes,
    path: "/profiles",
    summary: "Add species and their profiles from the library",
    body: addFromLibraryRequest,
  },
  profileSchema: {
    ...json,
    method: "get",
    path: "/profiles/schema.json",
    summary: "JSON schema of a profile file",
    answer: null,
    open: true,
  },
  profile: {
    ...json,
    method: "get",
    path: "/profiles/{species}",
    summary: "One species with every version of its profiles",
    answer: profileView,
  },
  saveProfile: {
    ...changes,
    path: "/profiles/{species}",
    summary: "A new version of a profile; each number with its source",
    body: saveProfileRequest,
  },
  importProfile: {
    ...changes,
    path: "/profiles/{species}/import",
    summary: "A profile from a CSV or JSON file",
    body: importProfileRequest,
  },
  exportProfile: {
    ...json,
    method: "get",
    path: "/profiles/{species}/export",
    summary: "A species' current profiles as a JSON or CSV file",
    query: exportQuery,
    answer: null,
  },
  residents: {
    ...json,
    method: "get",
    path: "/systems/{system}/residents",
    summary:
      "Who lives in a system, which bands they ask for, who sets each edge, conflicts, compromises, breeding watches",
    answer: residentsView,
  },
  moveIn: {
    ...changes,
    path: "/systems/{system}/residents",
    summary: "Animals move in from outside; the bands follow from that moment",
    body: moveInRequest,
  },
  moveAnimal: {
    ...changes,
    path: "/residents/{stay}/move",
    summary: "Animals move to another system, leave or die",
    body: moveRequest,
  },
  changeStage: {
    ...changes,
    path: "/residents/{stay}/stage",
    summary: "Animals have reached another life stage",
    body: stageRequest,
  },
  correctStay: {
    ...changes,
    path: "/residents/{stay}/correct",
    summary: "Correct a stay that was entered wrongly",
    body: correctStayRequest,
  },
  recordBirth: {
    ...changes,
    path: "/systems/{system}/births",
    summary: "Record a birth or hatching; the young become residents",
    body: birthRequest,
  },
  signCompromise: {
    ...changes,
    path: "/systems/{system}/compromises",
    summary: "Sign a compromise for months in which the residents' ranges do not overlap",
    body: compromiseRequest,
  },
  withdrawCompromise: {
    ...changes,
    path: "/compromises/{compromise}/withdraw",
    summary:
      "Withdraw a signed compromise from a given day: its months are in conflict again, and it stays in the history",
    body: withdrawCompromiseRequest,
  },
  confirmBand: {
    ...changes,
    path: "/systems/{system}/bands/confirm",
    summary: "Confirm the action limits that follow the residents",
    body: confirmBandRequest,
  },
  nightCounts: {
    ...json,
    method: "get",
    path: "/night-counts",
    summary:
      "The counts that breeding watches ask for tonight: asked for, due or done, and the pool kept ready for the young",
    answer: nightCountsView,
  },
  recordNightCount: {
    ...json,
    method: "post",
    path: "/breeding-watches/{watch}/counts",
    summary: "Record a nightly count for a breeding watch, once per client id",
    body: nightCountRequest,
    answer: nightCountAnswer,
  },
  openWatch: {
    ...changes,
    path: "/systems/{system}/breeding-watches",
    summary: "Open a breeding watch; its window runs from first day + shortest to last day + longest",
    body: openWatchRequest,
  },
  noteBreeding: {
    ...changes,
    path: "/breeding-watches/{watch}/events",
    summary: "Record an ultrasound, eggs, a window narrowed on a person's judgement, or how a watch ended",
    body: watchEventBody,
  },
} as const satisfies Record<string, Endpoint>;

/** Names of the schemas above in the document. */
export const NAMED_OF_HABITAT = {
  HabitatChange: habitatAnswer,
  Profiles: profilesView,
  Profile: profileView,
  AddFromLibrary: addFromLibraryRequest,
  SaveProfile: saveProfileRequest,
  ImportProfile: importProfileRequest,
  Residents: residentsView,
  MoveIn: moveInRequest,
  MoveAnimal: moveRequest,
  ChangeStage: stageRequest,
  CorrectStay: correctStayRequest,
  Birth: birthRequest,
  SignCompromise: compromiseRequest,
  WithdrawCompromise: withdrawCompromiseRequest,
  ConfirmBand: confirmBandRequest,
  Calendar: calendarView,
  NightCount: nightCountRequest,
  NightCounts: nightCountsView,
  NightCountStored: nightCountAnswer,
  OpenWatch: openWatchRequest,
  BreedingEvent: watchEventBody,
};
