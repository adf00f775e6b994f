import * as z from "zod";
import {
  alarmsView,
  alarmView,
  ammoniaAnswer,
  benchAnswer,
  healthView,
  problem,
  readingsAnswer,
  rejectedView,
  unclaimedView,
} from "./answers.ts";
import { benchRequest, readingsRequest } from "./api.ts";
import { arrivalsView } from "./arrivals.ts";
import { benchWaterView } from "./bench-water.ts";
import { NAMED_OF_CLOCKS } from "./clocks.ts";
import { ENDPOINTS, type Endpoint } from "./endpoints.ts";
import { NAMED_OF_HABITAT } from "./endpoints-of-habitat.ts";
import { NAMED_OF_HOME_WATER } from "./endpoints-of-home-water.ts";
import { NAMED_OF_IMPORTS } from "./endpoints-of-imports.ts";
import { NAMED_OF_PEOPLE } from "./endpoints-of-people.ts";
import { NAMED_OF_PROBES } from "./endpoints-of-probes.ts";
import { NAMED_OF_FORECAST } from "./forecast.ts";
import { NAMED_OF_INCIDENTS } from "./incidents.ts";
import { sumAnswer, sumRequest, sumsView, sumView } from "./sum-views.ts";
import {
  bandEdges,
  findingView,
  liveEvent,
  overnightView,
  seriesView,
  streamState,
  systemState,
  systemsView,
} from "./views.ts";
import { derivedNowView, workingView } from "./working-views.ts";

type Json = Record<string, unknown>;

const NAMED: Readonly<Record<string, z.ZodType>> = {
  Problem: problem,
  BandEdges: bandEdges,
  Finding: findingView,
  StreamState: streamState,
  SystemState: systemState,
  Systems: systemsView,
  Series: seriesView,
  Overnight: overnightView,
  Working: workingView,
  DerivedNow: derivedNowView,
  Sum: sumView,
  Sums: sumsView,
  SumRequest: sumRequest,
  SumAnswer: sumAnswer,
  LiveEvent: liveEvent,
  Alarm: alarmView,
  Alarms: alarmsView,
  Health: healthView,
  Arrivals: arrivalsView,
  Rejected: rejectedView,
  Unclaimed: unclaimedView,
  BenchTest: benchRequest,
  BenchAnswer: benchAnswer,
  BenchWater: benchWaterView,
  UnionisedAmmonia: ammoniaAnswer,
  Readings: readingsRequest,
  ReadingsAnswer: readingsAnswer,
  ...NAMED_OF_HABITAT,
  ...NAMED_OF_HOME_WATER,
  ...NAMED_OF_PEOPLE,
  ...NAMED_OF_IMPORTS,
  ...NAMED_OF_CLOCKS,
  ...NAMED_OF_PROBES,
  ...NAMED_OF_INCIDENTS,
  ...NAMED_OF_FORECAST,
};

const reference = (name: string) => `#/components/schemas/${name}`;

function nameOf(schema: z.ZodType): string {
  const found = Object.entries(NAMED).find(([, named]) => named === schema);
  if (!found) throw new Error("an endpoint's schema has no name in the OpenAPI document");
  return found[0];
}

function withoutKeys(schema: object): Json {
  const { $schema: _dialect, $id: _id, ...rest } = schema as Json;
  return rest;
}

function componentSchemas(): Json {
  const registry = z.registry<{ id?: string | undefined }>();
  for (const [id, schema] of Object.entries(NAMED)) registry.add(schema, { id });
  const { schemas } = z.toJSONSchema(registry, { uri: reference, io: "input" });
  return Object.fromEntries(Object.entries(schemas).map(([name, schema]) => [name, withoutKeys(schema)]));
}

function parametersOf({ path, query }: Endpoint): Json[] {
  const inPath = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => ({
    name,
    in: "path",
    required: true,
    description: name === "system" ? "a system's short name" : "as it is listed",
    schema: { type: "string" },
  }));
  if (!query) return inPath;
  const { properties = {}, required = [] } = withoutKeys(z.toJSONSchema(query, { io: "input" })) as {
    properties?: Record<string, Json>;
    required?: string[];
  };
  const inQuery = Object.entries(properties).map(([name, schema]) => ({
    name,
    in: "query",
    required: required.includes(name),
    schema,
  }));
  return [...inPath, ...inQuery];
}

function operation(name: string, endpoint: Endpoint): Json {
  const content = endpoint.answer
    ? { [endpoint.media]: { schema: { $ref: reference(nameOf(endpoint.answer)) } } }
    : { [endpoint.media]: { schema: { type: "object" } } };
  const body = endpoint.body && {
    requestBody: {
      required: true,
      content: { "application/json": { schema: { $ref: reference(nameOf(endpoint.body)) } } },
    },
  };
  return {
    operationId: name,
    summary: endpoint.summary,
    parameters: parametersOf(endpoint),
    ...body,
    responses: {
      "200": { description: "What was asked for", content },
      default: {
        description: "What is wrong and what to do instead (RFC 9457)",
        content: { "application/problem+json": { schema: { $ref: reference("Problem") } } },
      },
    },
    ...(endpoint.open ? { security: [] } : {}),
  };
}

/** The OpenAPI 3.1 document of the API, made from the very schemas that handlers check with. */
export function openApiDocument(version: string): Json {
  const paths: Record<string, Json> = {};
  for (const [name, endpoint] of Object.entries(ENDPOINTS) as [string, Endpoint][]) {
    paths[endpoint.path] = { ...paths[endpoint.path], [endpoint.method]: operation(name, endpoint) };
  }
  return {
    openapi: "3.1.0",
    info: {
      title: "Homewater",
      version,
      description: "Water quality and life support. Instants are UTC milliseconds; units are UCUM codes.",
    },
    servers: [{ url: "/api/v1" }],
    security: [{ token: [] }, {}],
    paths,
    components: {
      schemas: componentSchemas(),
      securitySchemes: { token: { type: "http", scheme: "bearer" } },
    },
  };
}
