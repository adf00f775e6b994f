/** A line of code knows its room: no folders that need each other, no part of one page that lives elsewhere. */
import { beforeAll, describe, expect, it } from "vitest";
import { type Arrow, folderRings, readArrows, usersOf } from "./module-graph.ts";

/** The gallery of parts and the layout show everything, so they make nothing shared. */
const SHOWS_EVERYTHING = ["app/parts/"];
/** What the layout puts on every page. */
const ON_EVERY_PAGE = ["app/layout.tsx", "app/not-found.tsx"];

let arrows: Arrow[];
beforeAll(() => {
  arrows = readArrows();
});

/** The pages (first folder below app) from which a file can be reached. */
function pagesThatUse(users: ReadonlySet<string>): string[] {
  const pages = [...users].filter(
    (path) => /^app\/[a-z]/.test(path) && !SHOWS_EVERYTHING.some((folder) => path.startsWith(folder)),
  );
  return [...new Set(pages.map((path) => path.split("/")[1] ?? ""))];
}

describe("folders", () => {
  it("need each other nowhere", () => {
    expect(arrows.length).toBeGreaterThan(1000);
    expect(folderRings(arrows)).toEqual([]);
  });

  it("are found where they do: a planted ring of three, by way of a file in a fourth", () => {
    const planted: Arrow[] = [
      { from: "lib/core/a/one.ts", to: "lib/core/b/two.ts" },
      { from: "lib/core/b/other.ts", to: "lib/core/c/three.ts" },
      { from: "lib/core/c/three.ts", to: "lib/core/a/last.ts" },
      { from: "lib/core/c/three.ts", to: "lib/core/d/leaf.ts" },
    ];
    expect(folderRings(planted)).toEqual([["lib/core/a", "lib/core/b", "lib/core/c"]]);
    expect(folderRings(planted.slice(0, 2))).toEqual([]);
  });
});

describe("parts of pages", () => {
  it("that one page uses stand beside it, not among the shared ones", () => {
    const users = usersOf(arrows);
    const shared = [...new Set(arrows.map(({ to }) => to))].filter((path) =>
      path.startsWith("app/_components/"),
    );
    expect(shared.length).toBeGreaterThan(20);
    const lonely = shared.filter((path) => {
      const all = users(path);
      return !ON_EVERY_PAGE.some((page) => all.has(page)) && pagesThatUse(all).length < 2;
    });
    expect(lonely).toEqual([]);
  });
});
