/** Reads a chosen file in the browser and sends it piece by piece: the file never waits on the server. */

import { type Sent, send } from "#app/_components/live/send.ts";
import type { ImportView, LookView, TryView } from "#contract/imports.ts";
import { fingerprintOf, PIECE_BYTES, pieceText } from "#core/importing/file-piece.ts";
import type { ImportPlan } from "#core/importing/plan.ts";
import { EMPTY_POSITION } from "#core/importing/progress.ts";
import { EMPTY_REPORT, type ImportReport, mergeReports } from "#core/importing/report.ts";

/** What became of a run through the file: finished, stopped by the reader, or refused with words. */
export type Ran<T> =
  | { readonly ok: true; readonly value: T; readonly stopped: boolean }
  | { readonly ok: false; readonly says: string };

const bytesOf = async (file: File, from: number): Promise<Uint8Array> =>
  new Uint8Array(await file.slice(from, from + PIECE_BYTES).arrayBuffer());

export const fileFingerprint = async (file: File): Promise<string> =>
  fingerprintOf(await bytesOf(file, 0), file.size);

async function pieceAt(file: File, from: number, encoding: ImportPlan["encoding"]) {
  const bytes = await bytesOf(file, from);
  const final = from + bytes.length >= file.size;
  return { text: pieceText(bytes, final, encoding), final };
}

const NOT_TEXT = "The file is not text in this encoding. Choose the other one.";
const words = (sent: Extract<Sent<unknown>, { ok: false }>): string =>
  [
    sent.says,
    ...sent.issues.map(
      (issue) => `${issue.value === null ? "" : `"${issue.value}" `}${issue.says}: ${issue.remedy}.`,
    ),
  ].join(" ");

/** What the beginning of the file looks like, divided as a person has chosen. */
export async function lookAgain(
  file: File,
  { encoding, delimiter, headingLine }: Pick<ImportPlan, "encoding" | "delimiter" | "headingLine">,
): Promise<Ran<LookView>> {
  const { text } = await pieceAt(file, 0, encoding);
  if (text === null) return { ok: false, says: NOT_TEXT };
  const sent = await send<LookView>("/imports/look", { text, delimiter, headingLine });
  return sent.ok ? { ok: true, value: sent.value, stopped: false } : { ok: false, says: words(sent) };
}

/** What the beginning of the file looks like, in the encoding that fits. */
export async function look(file: File): Promise<Ran<{ look: LookView; encoding: ImportPlan["encoding"] }>> {
  for (const encoding of ["utf-8", "windows-1252"] as const) {
    const { text } = await pieceAt(file, 0, encoding);
    if (text === null) continue;
    const sent = await send<LookView>("/imports/look", { text });
    return sent.ok
      ? { ok: true, value: { look: sent.value, encoding }, stopped: false }
      : { ok: false, says: words(sent) };
  }
  return { ok: false, says: NOT_TEXT };
}

interface Watch {
  /** Share of the file done, 0 to 1. */
  readonly onProgress: (share: number) => void;
  readonly signal: AbortSignal;
}

/** The whole file through a trial: nothing is stored. */
export async function tryFile(
  file: File,
  plan: ImportPlan,
  { onProgress, signal }: Watch,
): Promise<Ran<ImportReport>> {
  let position = EMPTY_POSITION;
  let report = EMPTY_REPORT;
  for (let final = false; !final; ) {
    if (signal.aborted) return { ok: true, value: report, stopped: true };
    const piece = await pieceAt(file, position.bytes, plan.encoding);
    if (piece.text === null) return { ok: false, says: NOT_TEXT };
    const sent = await send<TryView>("/imports/try", { plan, ...piece, position });
    if (!sent.ok) return { ok: false, says: words(sent) };
    report = mergeReports(report, sent.value.report);
    position = sent.value.position;
    final = piece.final;
    onProgress(position.bytes / file.size);
  }
  return { ok: true, value: report, stopped: false };
}

/** Stores the file from where the import stands; stopped, it goes on there the next time. */
export async function storeFile(
  file: File,
  plan: ImportPlan,
  { onProgress, signal }: Watch,
): Promise<Ran<ImportView>> {
  const fingerprint = await fileFingerprint(file);
  const begun = await send<ImportView>("/imports", { plan, file: file.name, bytes: file.size, fingerprint });
  if (!begun.ok) return { ok: false, says: words(begun) };
  let run = begun.value;
  while (run.state === "running") {
    if (signal.aborted) return { ok: true, value: run, stopped: true };
    const piece = await pieceAt(file, run.position.bytes, plan.encoding);
    if (piece.text === null) return { ok: false, says: NOT_TEXT };
    const sent = await send<ImportView>(`/imports/${encodeURIComponent(run.id)}/pieces`, {
      bytes: run.position.bytes,
      ...piece,
    });
    if (!sent.ok)
      return {
        ok: false,
        says: `${words(sent)} Readings stored so far are kept. Choose the file again to continue.`,
      };
    run = sent.value;
    onProgress(run.position.bytes / file.size);
  }
  return { ok: true, value: run, stopped: false };
}
