import { type FileHandle, open } from "node:fs/promises";
import { fingerprintOf, PIECE_BYTES, pieceText } from "#core/importing/file-piece.ts";
import type { ImportPlan } from "#core/importing/plan.ts";
import { ImportError } from "./import-error.ts";

export interface RecordedFile {
  readonly bytes: number;
  readonly fingerprint: string;
  piece(
    from: number,
    encoding: ImportPlan["encoding"],
  ): Promise<{ readonly text: string; readonly final: boolean }>;
  close(): Promise<void>;
}

async function readAt(handle: FileHandle, from: number, length: number): Promise<Uint8Array> {
  const buffer = new Uint8Array(length);
  let read = 0;
  while (read < length) {
    const { bytesRead } = await handle.read(buffer, read, length - read, from + read);
    if (bytesRead === 0) break;
    read += bytesRead;
  }
  return buffer.subarray(0, read);
}

/** Opens a file to be read piece by piece. Rejects with ImportError where it cannot be read or is empty. */
export async function openRecorded(file: string): Promise<RecordedFile> {
  const handle = await open(file, "r").catch((cause: unknown) => {
    throw new ImportError(
      `${file} cannot be read: ${cause instanceof Error ? cause.message : String(cause)}.`,
      { cause },
    );
  });
  const { size } = await handle.stat();
  if (size === 0) {
    await handle.close();
    throw new ImportError(`${file} is empty.`);
  }
  return {
    bytes: size,
    fingerprint: fingerprintOf(await readAt(handle, 0, Math.min(size, PIECE_BYTES)), size),
    async piece(from, encoding) {
      const bytes = await readAt(handle, from, PIECE_BYTES);
      const final = from + bytes.length >= size;
      const text = pieceText(bytes, final, encoding);
      if (text === null)
        throw new ImportError(`${file} is not ${encoding} text after byte ${from}: try another --encoding.`);
      return { text, final };
    },
    close: () => handle.close(),
  };
}
