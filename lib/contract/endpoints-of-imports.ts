/** What the API offers for recorded files; part of the one table in endpoints.ts. */
import type * as z from "zod";
import type { Endpoint } from "./endpoint.ts";
import {
  beginRequest,
  importsView,
  importView,
  lookRequest,
  lookView,
  pieceRequest,
  tryRequest,
  tryView,
  withdrawRequest,
} from "./imports.ts";

const common = { media: "application/json", open: false } as const;
const get = { ...common, method: "get" } as const;
const post = { ...common, method: "post" } as const;

export const ENDPOINTS_OF_IMPORTS = {
  imports: {
    ...get,
    path: "/imports",
    summary: "Imports of recorded files, newest first",
    answer: importsView,
  },
  beginImport: {
    ...post,
    path: "/imports",
    summary: "Begin an import, or find the stopped import of the same file",
    body: beginRequest,
    answer: importView,
  },
  lookAtFile: {
    ...post,
    path: "/imports/look",
    summary: "What the beginning of a file looks like: delimiter, columns, first rows",
    body: lookRequest,
    answer: lookView,
  },
  tryImport: {
    ...post,
    path: "/imports/try",
    summary:
      "Preview what importing a piece of a file would store, ignore, find in conflict or refuse; nothing is written",
    body: tryRequest,
    answer: tryView,
  },
  continueImport: {
    ...post,
    path: "/imports/{import}/pieces",
    summary: "Store the next piece of a file; the answer says where the next one begins",
    body: pieceRequest,
    answer: importView,
  },
  withdrawImport: {
    ...post,
    path: "/imports/{import}/withdraw",
    summary: "Withdraw an import: its rows are left out everywhere; nothing is deleted",
    body: withdrawRequest,
    answer: importView,
  },
} as const satisfies Record<string, Endpoint>;

/** Names of their schemas in the OpenAPI document. */
export const NAMED_OF_IMPORTS: Readonly<Record<string, z.ZodType>> = {
  Imports: importsView,
  Import: importView,
  NewImport: beginRequest,
  FileBeginning: lookRequest,
  FileLook: lookView,
  ImportTrial: tryRequest,
  ImportTried: tryView,
  ImportPiece: pieceRequest,
  WithdrawImport: withdrawRequest,
};
