import { describe, expect, test } from "vitest";
import { guard, isLoopback, Unauthorised } from "../../app/_server/guard.ts";
import { AppError } from "../../lib/services/errors.ts";

const TOKEN = "0123456789abcdef";
const loopback = { apiToken: TOKEN, host: "127.0.0.1" };
const everywhere = { apiToken: TOKEN, host: "0.0.0.0" };
const from = (headers: Record<string, string>) => new Headers({ host: "localhost:3000", ...headers });

describe("with a token", () => {
  test("the right one opens reading and recording, from anywhere", () => {
    const actor = guard(
      from({ authorization: `Bearer ${TOKEN}`, host: "water.example" }),
      "POST",
      everywhere,
    );
    expect([...actor.may]).toEqual(["read", "record"]);
  });

  test.each([
    ["a wrong one", `Bearer ${TOKEN}x`],
    ["a part of it", `Bearer ${TOKEN.slice(1)}`],
    ["an empty one", "Bearer "],
    ["another scheme", "Basic YTpi"],
  ])("%s is refused even on this machine", (_claim, authorization) => {
    expect(() => guard(from({ authorization, "sec-fetch-site": "same-origin" }), "GET", loopback)).toThrow(
      Unauthorised,
    );
  });

  test("a token is refused where none is set", () => {
    expect(() =>
      guard(from({ authorization: `Bearer ${TOKEN}` }), "GET", { apiToken: null, host: "127.0.0.1" }),
    ).toThrow(Unauthorised);
  });
});

describe("without a token", () => {
  test.each<[string, string, Record<string, string>, "ok" | 401 | 403]>([
    ["a page of ours reads", "GET", { "sec-fetch-site": "same-origin" }, "ok"],
    ["a typed address reads", "GET", { "sec-fetch-site": "none", "sec-fetch-mode": "navigate" }, "ok"],
    ["a script on this machine reads", "GET", {}, "ok"],
    ["another site's page does not read", "GET", { "sec-fetch-site": "cross-site" }, 403],
    ["a page of a sibling host does not read", "GET", { "sec-fetch-site": "same-site" }, 403],
    ["another origin does not read", "GET", { origin: "https://evil.example" }, 403],
    ["an origin of null does not read", "GET", { origin: "null" }, 403],
    [
      "a name pointed at this machine does not read",
      "GET",
      { host: "evil.example", "sec-fetch-site": "same-origin" },
      401,
    ],
    [
      "a page of ours writes",
      "POST",
      { "sec-fetch-site": "same-origin", origin: "http://localhost:3000" },
      "ok",
    ],
    ["a page of ours in an old browser writes", "POST", { origin: "http://localhost:3000" }, "ok"],
    ["a post without a sign of where it comes from is refused", "POST", {}, 401],
    [
      "a post from another site is refused",
      "POST",
      { "sec-fetch-site": "cross-site", origin: "https://evil.example" },
      403,
    ],
    ["a post from another port of this machine is refused", "POST", { origin: "http://localhost:9999" }, 403],
    [
      "a post whose headers disagree is refused",
      "POST",
      { "sec-fetch-site": "same-origin", origin: "https://evil.example" },
      403,
    ],
  ])("%s", (_claim, method, headers, outcome) => {
    const attempt = () => guard(from(headers), method, loopback);
    if (outcome === "ok") expect(attempt().may.has("record")).toBe(true);
    else expect(attempt).toThrow(outcome === 401 ? Unauthorised : AppError);
  });

  test("a server that listens to the network serves nobody, not even by a loopback name", () => {
    expect(() => guard(from({ "sec-fetch-site": "same-origin" }), "GET", everywhere)).toThrow(Unauthorised);
  });
});

test.each([
  ["localhost", true],
  ["localhost:3000", true],
  ["127.0.0.1:80", true],
  ["127.1.2.3", true],
  ["::1", true],
  ["[::1]:3000", true],
  ["0.0.0.0", false],
  ["192.168.1.4:3000", false],
  ["127.0.0.1.evil.example", false],
  ["localhost.evil.example", false],
  ["", false],
  [null, false],
])("%s is this machine: %s", (host, is) => expect(isLoopback(host)).toBe(is));
