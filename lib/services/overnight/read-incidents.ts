import type { IncidentsQuery, IncidentsView, IncidentView } from "#contract/incidents.ts";
import { theilSen } from "#core/drift/trend.ts";
import { oxygenLeftAtFall, oxygenLeftByMass } from "#core/forecast/estimates.ts";
import { likelyCauses, type Seen } from "#core/incidents/cause.ts";
import { type Incident, incidentsOf, type Member, TOGETHER } from "#core/incidents/group.ts";
import { inForce, type LogEntry } from "#core/logbook/entry.ts";
import { logKind } from "#core/logbook/kinds.ts";
import { mainPoint } from "#core/set-up/point-role.ts";
import { DAY, type Instant, MINUTE } from "#core/time/instant.ts";
import { highText, lowText } from "#core/units/bound-text.ts";
import { numberText, withUnit } from "#core/units/number-text.ts";
import type { Current, Finding } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { type SystemSetUp, systemOf } from "../set-up.ts";
import { findingView } from "../systems/finding-view.ts";
import { headSite, MOST_FINDINGS } from "../systems/read-systems.ts";
import { isRunning } from "../systems/system-state.ts";
import { type Around, loggedNear, seenAround } from "./incident-signs.ts";
import { memberOf } from "./overnight-groups.ts";

/** Causes are looked for in so many incidents at once, the newest; older ones are counted. */
const MOST = 20;
const MOST_ENTRIES = 1_000;

interface MemberWithFinding extends Member {
  readonly row: Finding;
}

/** Fewer quarter hours since the beginning do not show how fast it falls. */
const LEAST_POINTS = 3;
const PER_HOUR = 60 * MINUTE;

/** How fast a quantity falls since an incident began, units an hour above 0; null where its readings do not show it. */
function fallSince(seen: Seen, at: SystemSetUp, id: string): number | null {
  const main = mainPoint(at.points)?.code;
  const track = seen.signs.find(
    (sign) =>
      sign.track.system === at.system.code &&
      sign.track.quantity === id &&
      sign.track.point === main &&
      !sign.track.isBench,
  )?.track;
  const points = (track?.at ?? []).flatMap((moment, i) =>
    moment >= seen.onset ? [[(moment - seen.onset) / PER_HOUR, track?.value[i] as number] as const] : [],
  );
  if (points.length < LEAST_POINTS) return null;
  const slope = theilSen(
    points.map(([hour]) => hour),
    points.map(([, value]) => value),
    0.9,
  )?.slope;
  return slope !== undefined && slope < 0 ? -slope : null;
}

/** Before a fall can be measured: from what the animals use. Empty where the mass of one of them is not known. */
function byMass(at: SystemSetUp, oxygen: number, limit: number, now: Instant): IncidentView["estimates"] {
  const here = at.residents.filter((row) => row.from <= now && (row.to === null || now < row.to));
  if (here.length === 0 || here.some((row) => row.mass == null)) return [];
  const mass = here.reduce((sum, row) => sum + (row.mass ?? 0), 0);
  const left = oxygenLeftByMass({ oxygen, limit, volume: at.system.volume, mass });
  if (!left) return [];
  return [
    {
      says: `${at.system.name}: ${lowText(left.earliest, 1)} to ${highText(left.latest, 1)} h until oxygen reaches ${withUnit(limit, 2, "mg/L")}, by the animals' mass.`,
      assumes: `Assumes that ${numberText(mass, 0)} kg at rest use 50 to 150 mg of oxygen a kilogram an hour, and that none comes in: no fall has been measured yet. Without mixing the probe may not be at the worst place.`,
    },
  ];
}

/** What oxygen is left where it falls and the water stands, from the fall since that began; empty where that is not known. */
function estimatesOf(
  seen: Seen,
  systems: readonly SystemSetUp[],
  currents: Around["currents"],
  now: Instant,
): IncidentView["estimates"] {
  const stands = seen.signs.some(
    ({ track, hours }) =>
      (track.quantity === "flow" && hours === "down") ||
      (track.quantity === "pump" && track.word !== null && track.word !== "running") ||
      (track.quantity === "mains" && track.word !== null && track.word !== "mains"),
  );
  if (!stands) return [];
  return systems.flatMap((at) => {
    const oxygen = currentOf(at, "dissolved_oxygen", currents);
    const saturation = currentOf(at, "oxygen_saturation", currents);
    const fall = fallSince(seen, at, "dissolved_oxygen");
    if (!oxygen) return [];
    const percent = saturation?.band?.actionLow ?? null;
    const limit =
      oxygen.band?.actionLow ??
      (percent !== null && saturation && saturation.value > 0
        ? (oxygen.value * percent) / saturation.value
        : null);
    if (limit === null) return [];
    if (fall === null) return byMass(at, oxygen.value, limit, now);
    const left = oxygenLeftAtFall({ oxygen: oxygen.value, limit, volume: at.system.volume, fall });
    if (!left || !Number.isFinite(left.hours)) return [];
    const then = percent === null ? "" : ` (${percent} %)`;
    return [
      {
        says: `${at.system.name}: about ${numberText(left.hours, 1)} h until oxygen reaches ${withUnit(limit, 2, "mg/L")}${then}.`,
        assumes: `Assumes that the fall measured since it began, ${withUnit(fall, 2, "mg/L")} an hour in ${at.system.volume} m³, continues: ${numberText(left.gramsPerHour, 0)} g of oxygen an hour. Without mixing the probe may not be at the worst place.`,
      },
    ];
  });
}

function currentOf(at: SystemSetUp, quantity: string, currents: Around["currents"]): Current | undefined {
  const main = mainPoint(at.points)?.code;
  const stream = at.streams.find(
    (row) => row.quantity === quantity && row.origin !== "bench" && row.pointCode === main,
  );
  return stream && currents.get(stream.id);
}

function changedNear(
  log: readonly LogEntry[],
  systems: readonly SystemSetUp[],
  incident: Incident<MemberWithFinding>,
): IncidentView["changed"] {
  return loggedNear(log, systems, incident.began)
    .map(inForce)
    .filter((version) => Math.abs(version.at - incident.began) <= TOGETHER)
    .map((version) => ({
      at: version.at,
      says: [logKind(version.kind)?.label ?? version.kind, version.text].filter(Boolean).join(": "),
    }))
    .sort((a, b) => a.at - b.at);
}

/**
 * Findings of a range that began together on one system or loop, each with what changed within half an hour and what may be behind it.
 * Every member stays in sight, whatever the cause. Throws AppError "not_found" for an unknown system.
 */
export async function readIncidents(deps: ReadDeps, query: IncidentsQuery): Promise<IncidentsView> {
  const { store } = deps;
  const now = deps.clock();
  const to = query.to ?? now;
  const from = query.from ?? to - DAY;
  const currentRows = await store.readCurrent();
  const index = await deps.setUp.read(currentRows.map((row) => row.stream));
  const only = query.system === undefined ? null : systemOf(index, query.system).system.id;
  const [open, past, log] = await Promise.all([
    store.readFindings({ open: true, limit: MOST_FINDINGS }),
    store.readFindings({ from, to, limit: MOST_FINDINGS }),
    store.readLog({ from: from - DAY, to: now, limit: MOST_ENTRIES }),
  ]);
  const rows = [...new Map([...open, ...past].map((row) => [row.id, row])).values()];
  const members = rows.flatMap((row): MemberWithFinding[] => {
    const at = index.byId.get(row.system);
    if (!at || !isRunning(at, now) || !index.streams.has(row.stream)) return [];
    const loops = at.loops.map((loop) => loop.code);
    return [{ ...memberOf(row, String(row.stream), loops), row }];
  });
  const incidents = incidentsOf(members)
    .filter((incident) => only === null || incident.systems.includes(only))
    .reverse();
  const currents = new Map(currentRows.map((row) => [row.stream, row]));
  const around: Around = { store, index, now, currents, log, findings: rows };
  const views = await Promise.all(
    incidents.slice(0, MOST).map(async (incident): Promise<IncidentView> => {
      const systems = incident.systems.flatMap((id) => index.byId.get(id) ?? []);
      const findings = incident.members.map((member) => member.row);
      const seen = await seenAround(around, systems, findings, incident.began);
      return {
        id: incident.id,
        began: incident.began,
        systems: systems.map((at) => ({ system: at.system.code, name: at.system.name })),
        members: findings.flatMap((row) => {
          const view = findingView(row, undefined, index, now, currents.get(row.stream));
          return view
            ? [{ finding: row.id, systemName: view.systemName, began: row.began, says: view.says }]
            : [];
        }),
        changed: changedNear(log, systems, incident),
        causes: likelyCauses(seen).map((cause) => ({
          ...cause,
          for: [...cause.for],
          against: [...cause.against],
          notMeasured: [...cause.notMeasured],
        })),
        estimates: findings.some((row) => row.ended === null)
          ? estimatesOf(seen, systems, currents, now)
          : [],
      };
    }),
  );
  return {
    now,
    zone: headSite(index).zone,
    incidents: views,
    more: Math.max(0, incidents.length - MOST),
  };
}
