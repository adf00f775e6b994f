import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { HealthLive } from "#app/health/_parts/health-live.tsx";
import { ImportReportView } from "#app/set-up/_parts/import/import-report.tsx";
import { emptyColumn } from "#core/importing/report.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { judgeHealth } from "#core/upkeep/judge.ts";

const NOW = Date.UTC(2026, 10, 25, 12);
const counts = { readings: 5, duplicates: 0, conflicts: 0, rejected: 2, unclaimed: 0 };
const backups = { last: null, good: null };
const items = judgeHealth({
  now: NOW,
  dialect: "sqlite",
  journal: null,
  cursor: null,
  rejudging: 0,
  counts,
  processes: [],
  lease: null,
  backups,
  senders: [],
});
const view = {
  ok: true,
  version: "1.2.3",
  schema: 6,
  detail: {
    now: NOW,
    dialect: "sqlite" as const,
    where: "/srv/homewater.db",
    journal: null,
    cursor: null,
    behind: { entries: 0, ms: 0 },
    rejudging: [],
    counts,
  },
  upkeep: {
    items: items.map((item) => ({ ...item })),
    processes: [],
    lease: null,
    disk: null,
    databaseBytes: null,
    backups,
    senders: [],
  },
};

test("the health page says how many things need somebody, and each with word, sign and remedy", () => {
  const html = renderToStaticMarkup(<HealthLive initial={view} zone="Europe/London" />);
  expect(html).toContain("2 things need action now.");
  expect(html).toMatch(/data-item="evaluating" data-state="act".*▲.*act now.*Start Homewater/s);
  expect(html).toMatch(/data-item="rejected" data-state="look".*◆.*2 messages could not be read/s);
  expect(html).toContain("/srv/homewater.db");
});

test("without the rest nothing is told", () => {
  expect(
    renderToStaticMarkup(<HealthLive initial={{ ok: true, version: "1", schema: 6 }} zone="Z" />),
  ).toContain("Sign in again");
});

test("the report of an import shows range and doubt of each column, and what was refused with its line", () => {
  const column = {
    ...emptyColumn({ name: "Temp", place: "reef/display/temperature", unit: "Cel" }),
    stored: 9_000,
    min: 58.00004,
    max: 60,
    from: NOW - 1,
    to: NOW,
    unbelievable: 9_000,
  };
  const report = {
    rows: 9_001,
    backwards: 3,
    columns: [column],
    rejects: [{ reason: "not a number", count: 1, examples: [{ line: 7, column: "Temp", value: "acht" }] }],
  };
  const html = renderToStaticMarkup(
    <ImportReportView report={report} done={false} clock={clockOf("Europe/London")} />,
  );
  expect(html).toMatch(/9,001 rows.*<b>9,000<\/b> readings would be stored.*1 refused/s);
  expect(html).toMatch(/58(\.0000)? to 60 Cel.*9,000 not plausible for this quantity: is the unit right\?/s);
  expect(html).toContain("Line 7, Temp: &quot;acht&quot;");
  expect(html).toContain("3 rows are earlier than the row above");
});
