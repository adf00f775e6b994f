/** The words of a page, drawn on the server as its first paint is. */
import { readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { PassThrough } from "node:stream";
import { text } from "node:stream/consumers";
import { fileURLToPath } from "node:url";
import { createElement, type ReactNode } from "react";
import { renderToPipeableStream } from "react-dom/server";
import { vi } from "vitest";

vi.mock("next/navigation", () => ({
  redirect(to: string) {
    throw new Error(`redirected to ${to}`);
  },
  notFound() {
    throw new Error("no such page");
  },
  useRouter: () => ({ push() {}, replace() {}, refresh() {} }),
}));

const ROOT = fileURLToPath(new URL("../../app", import.meta.url));
type Page = (props: {
  readonly params: Promise<Record<string, string>>;
  readonly searchParams: Promise<Record<string, string>>;
}) => ReactNode | Promise<ReactNode>;

const PAGES = readdirSync(ROOT, { recursive: true, encoding: "utf8" })
  .filter((file) => file.endsWith("page.tsx") && dirname(file) !== ".")
  .map((file) => ({
    // A folder in brackets groups pages and is no part of their address.
    segments: dirname(file)
      .split("/")
      .filter((segment) => !segment.startsWith("(")),
    file: join(ROOT, file),
  }));

function find(path: string) {
  const asked = path.split("/").filter((segment) => segment !== "");
  for (const { segments, file } of PAGES.toSorted((a, b) => a.file.localeCompare(b.file))) {
    if (segments.length !== asked.length) continue;
    const params: Record<string, string> = {};
    const fits = segments.every((segment, i) => {
      if (!segment.startsWith("[")) return segment === asked[i];
      params[segment.slice(1, -1)] = asked[i] as string;
      return true;
    });
    if (fits) return { file, params };
  }
  throw new Error(`no page at ${path}`);
}

const ENTITIES: Readonly<Record<string, string>> = {
  "&amp;": "&",
  "&lt;": "<",
  "&gt;": ">",
  "&quot;": '"',
  "&#x27;": "'",
};
const BLOCKS =
  /<\/?(?:p|li|ul|ol|h\d|div|section|article|header|footer|tr|table|dt|dd|dl|figure|details|summary|nav|main|form|fieldset)\b[^>]*>/g;

/** What a reader of the source sees: no script, no style, one line for each block. */
export function textOf(html: string): string {
  return html
    .replace(/<(script|style|template)\b[\s\S]*?<\/\1>/g, "")
    .replace(/<!--[\s\S]*?-->/g, "")
    .replace(BLOCKS, "\n")
    .replace(/<[^>]+>/g, " ")
    .replace(/&(?:amp|lt|gt|quot|#x27);/g, (entity) => ENTITIES[entity] as string)
    .split("\n")
    .map((line) =>
      line
        .replace(/\s+/g, " ")
        .replace(/ ([.,;:)])/g, "$1")
        .trim(),
    )
    .filter((line) => line !== "")
    .join("\n");
}

/** Draws the page at an address ("/overnight", "/systems/kelp?range=7d") and gives its words. */
export async function pageText(address: string): Promise<string> {
  const url = new URL(address, "http://localhost:3000");
  const { file, params } = find(url.pathname);
  const { default: Page } = (await import(file)) as { default: Page };
  const searchParams = Promise.resolve(Object.fromEntries(url.searchParams));
  const content = await Page({ params: Promise.resolve(params), searchParams });
  return textOf(await drawn(content));
}

function drawn(content: ReactNode): Promise<string> {
  return new Promise((resolve, reject) => {
    const { pipe } = renderToPipeableStream(createElement("main", null, content), {
      onAllReady() {
        const out = new PassThrough();
        text(out).then(resolve, reject);
        pipe(out);
      },
      onError: reject,
    });
  });
}
