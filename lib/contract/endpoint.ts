import type * as z from "zod";

/** One row of what the API offers. */
export interface Endpoint {
  readonly method: "get" | "post";
  /** Below /api/v1. */
  readonly path: string;
  readonly summary: string;
  readonly query?: z.ZodObject;
  readonly body?: z.ZodObject;
  /** Null where the answer is not described here (the document itself). */
  readonly answer: z.ZodType | null;
  readonly media: "application/json" | "text/event-stream" | "text/csv";
  /** True where nobody needs to say who they are. */
  readonly open: boolean;
}
