import { Hono } from "hono";
import { etag } from "hono/etag";
import * as z from "zod";
import { version } from "../../../package.json";
import type { Role } from "../../store/roles.ts";
import type { AppEnv } from "../edge/deps.ts";
import { assessSchema } from "../schemas/assess-schema.ts";
import { readingsSchema } from "../schemas/readings-schema.ts";
import {
  chargeEntryInput,
  chargeLine,
  findingInput,
  findingLine,
  newVehicleInput,
  noteInput,
  noteLine,
  readingsInput,
  readingsLine,
  vehicleInput,
  vehicleStored,
} from "../schemas/record-schema.ts";
import {
  apiError,
  assessAnswer,
  chargePage,
  findingPage,
  notePage,
  readingsAnswer,
  readingsPage,
  vehiclePage,
} from "./answers.ts";
import { PAGE_LIMIT } from "./vehicles.ts";

/** `GET /api/openapi.json`: the API in OpenAPI 3.1, from the schemas that check what comes in. */
export function openApiRoutes() {
  let text: string | undefined;
  return new Hono<AppEnv>().get("/api/openapi.json", etag(), (c) => {
    text ??= JSON.stringify(openApiDocument());
    c.header("Cache-Control", "no-cache");
    return c.body(text, 200, { "Content-Type": "application/json" });
  });
}

/** Every schema that the description names, by that name. */
const SCHEMAS = {
  AssessRequest: assessSchema,
  AssessAnswer: assessAnswer,
  Readings: readingsSchema,
  ReadingsAnswer: readingsAnswer,
  NewVehicle: newVehicleInput,
  VehicleInput: vehicleInput,
  Vehicle: vehicleStored,
  VehiclePage: vehiclePage,
  ChargeEntryInput: chargeEntryInput,
  ChargeLine: chargeLine,
  ChargePage: chargePage,
  FindingInput: findingInput,
  FindingLine: findingLine,
  FindingPage: findingPage,
  ReadingsInput: readingsInput,
  ReadingsLine: readingsLine,
  ReadingsPage: readingsPage,
  NoteInput: noteInput,
  NoteLine: noteLine,
  NotePage: notePage,
  Error: apiError,
} as const satisfies Record<string, z.ZodType>;
type SchemaName = keyof typeof SCHEMAS;

interface Operation {
  method: "get" | "post" | "put" | "delete";
  path: string;
  id: string;
  summary: string;
  /** Who may; null: everyone, without a key. */
  role: Role | null;
  query?: readonly QueryName[];
  takes?: SchemaName;
  /** Null: any JSON object. */
  gives: SchemaName | null;
  status?: 200 | 201;
  /** Asks for the version that was seen, and tells that of what is stored. */
  versioned?: boolean;
  tagged?: boolean;
}

const QUERY = {
  search: { description: "Words that all must occur in label, group, depot, notes or remarks.", schema: string() },
  fleet_group: { description: "Only this group.", schema: string() },
  depot: { description: "Only this depot.", schema: string() },
  archived: {
    description: "The archived vehicles instead of those in use.",
    schema: { type: "boolean", default: false },
  },
  limit: {
    description: "How many at most.",
    schema: { type: "integer", minimum: 1, maximum: PAGE_LIMIT.max, default: PAGE_LIMIT.default },
  },
  after: { description: "The `next` of the page before.", schema: string() },
  as_of: {
    description: "The day of the question; today where the workspace is, unless given.",
    schema: { type: "string", format: "date" },
  },
} as const;
type QueryName = keyof typeof QUERY;

const VEHICLE = "/api/vehicles/{id}";

const OPERATIONS: readonly Operation[] = [
  {
    method: "post",
    path: "/api/assess",
    id: "assess",
    summary: "A charge log in, the model's answer out. Nothing is kept.",
    role: null,
    takes: "AssessRequest",
    gives: "AssessAnswer",
  },
  {
    method: "post",
    path: "/api/readings",
    id: "judgeReadings",
    summary: "Gauge and vent readings in, ranked findings out. Nothing is kept.",
    role: null,
    takes: "Readings",
    gives: "ReadingsAnswer",
  },
  {
    method: "get",
    path: "/api/openapi.json",
    id: "describeApi",
    summary: "This description.",
    role: null,
    gives: null,
  },
  {
    method: "get",
    path: "/api/vehicles",
    id: "listVehicles",
    summary: "Vehicles by label.",
    role: "viewer",
    query: ["search", "fleet_group", "depot", "archived", "limit", "after"],
    gives: "VehiclePage",
  },
  {
    method: "post",
    path: "/api/vehicles",
    id: "addVehicle",
    summary: "Add a vehicle, with what is known about it: all or nothing.",
    role: "editor",
    takes: "NewVehicle",
    gives: "Vehicle",
    status: 201,
    tagged: true,
  },
  {
    method: "get",
    path: VEHICLE,
    id: "readVehicle",
    summary: "One vehicle.",
    role: "viewer",
    gives: "Vehicle",
    tagged: true,
  },
  {
    method: "put",
    path: VEHICLE,
    id: "replaceVehicle",
    summary: "Put this in place of all that was said about a vehicle. Its records stay.",
    role: "editor",
    takes: "VehicleInput",
    gives: "Vehicle",
    versioned: true,
    tagged: true,
  },
  {
    method: "put",
    path: `${VEHICLE}/archival`,
    id: "archiveVehicle",
    summary: "Take a vehicle out of the lists, with all its records kept.",
    role: "editor",
    gives: "Vehicle",
    versioned: true,
    tagged: true,
  },
  {
    method: "delete",
    path: `${VEHICLE}/archival`,
    id: "unarchiveVehicle",
    summary: "Put an archived vehicle back into the lists.",
    role: "editor",
    gives: "Vehicle",
    versioned: true,
    tagged: true,
  },
  {
    method: "get",
    path: `${VEHICLE}/assessment`,
    id: "assessVehicle",
    summary:
      "The model's answer about a vehicle, from its records, the workspace's numbers and the rules of its place.",
    role: "viewer",
    query: ["as_of"],
    gives: "AssessAnswer",
  },
  ...ledgerOperations("charge-log", "ChargeEntry", "an entry of the charge log", {
    takes: "ChargeEntryInput",
    gives: "ChargeLine",
    page: "ChargePage",
  }),
  ...ledgerOperations("findings", "Finding", "a finding", {
    takes: "FindingInput",
    gives: "FindingLine",
    page: "FindingPage",
  }),
  ...ledgerOperations("readings", "VehicleReadings", "a set of readings", {
    takes: "ReadingsInput",
    gives: "ReadingsLine",
    page: "ReadingsPage",
  }),
  ...ledgerOperations("notes", "Note", "a note", { takes: "NoteInput", gives: "NoteLine", page: "NotePage" }),
];

/** The addresses of one ledger. Lines are never edited: each change writes a new line with the next version. */
function ledgerOperations(
  ledger: string,
  name: string,
  what: string,
  { takes, gives, page }: { takes: SchemaName; gives: SchemaName; page: SchemaName },
): Operation[] {
  const entries = `${VEHICLE}/${ledger}`;
  const entry = `${entries}/{entry}`;
  const changed = { role: "editor", gives, versioned: true, tagged: true } as const;
  return [
    {
      method: "get",
      path: entries,
      id: `list${name}`,
      summary: "What holds now, in order.",
      role: "viewer",
      gives: page,
    },
    {
      method: "post",
      path: entries,
      id: `add${name}`,
      summary: `Add ${what}.`,
      role: "editor",
      takes,
      gives,
      status: 201,
      tagged: true,
    },
    {
      method: "get",
      path: `${VEHICLE}/history/${ledger}`,
      id: `history${name}`,
      summary: "Every line ever written, newest first.",
      role: "viewer",
      query: ["limit", "after"],
      gives: page,
    },
    {
      method: "get",
      path: entry,
      id: `read${name}`,
      summary: `The newest line of ${what}, be it a removal.`,
      role: "viewer",
      gives,
      tagged: true,
    },
    {
      method: "get",
      path: `${entry}/versions`,
      id: `versions${name}`,
      summary: `All lines of ${what}, the first first.`,
      role: "viewer",
      gives: page,
    },
    {
      method: "put",
      path: entry,
      id: `correct${name}`,
      summary: `Correct ${what}. The line before stays in the history.`,
      takes,
      ...changed,
    },
    { method: "delete", path: entry, id: `remove${name}`, summary: `Remove ${what} from what holds now.`, ...changed },
    {
      method: "post",
      path: `${entry}/undo`,
      id: `undo${name}`,
      summary: "Put back what held before that version. Undoing an undo brings the change back.",
      ...changed,
    },
  ];
}

/** The document, as OpenAPI 3.1.1 has it. */
export function openApiDocument() {
  const paths: Record<string, Record<string, object>> = {};
  for (const operation of OPERATIONS) {
    const methods = paths[operation.path] ?? {};
    methods[operation.method] = described(operation);
    paths[operation.path] = methods;
  }
  return {
    openapi: "3.1.1",
    info: { title: "Seepwise", version, description: ABOUT, license: { name: "MIT", identifier: "MIT" } },
    servers: [{ url: "/" }],
    security: [{ key: [] }],
    paths,
    components: {
      schemas: jsonSchemas(),
      securitySchemes: {
        key: {
          type: "http",
          scheme: "bearer",
          description: "A key of the workspace, made under Settings. A server for this machine alone asks for none.",
        },
      },
    },
  };
}

const ABOUT =
  "Whether to repair, dye-test or top off a slowly leaking vehicle air conditioner, from its charge log; and the records behind it. " +
  "Amounts are grams, money is in the currency of the workspace, dates are YYYY-MM-DD, instants UTC. " +
  "Send a body as application/json; a change without a body needs that header, too, when it comes without a key. " +
  "Under Idempotency-Key the same change arriving twice is made once.";

function described({ id, summary, role, query = [], takes, gives, status = 200, versioned, tagged, path }: Operation) {
  const needs = role === null ? "" : ` Needs ${role} access.`;
  return {
    operationId: id,
    summary,
    description: `${summary}${needs}`,
    ...(role === null ? { security: [] } : {}),
    parameters: [
      ...Array.from(path.matchAll(/\{(\w+)\}/g), ([, name]) => ({
        name,
        in: "path",
        required: true,
        schema: string(),
      })),
      ...query.map((name) => ({ name, in: "query", required: false, ...QUERY[name] })),
      ...(versioned ? [IF_MATCH] : []),
      ...(role === "editor" ? [IDEMPOTENCY_KEY] : []),
    ],
    ...(takes === undefined ? {} : { requestBody: { required: true, content: json(reference(takes)) } }),
    responses: {
      [status]: {
        description: status === 201 ? "Stored." : "Done.",
        ...(tagged
          ? { headers: { ETag: { description: "The version, to be named in If-Match.", schema: string() } } }
          : {}),
        content: json(gives === null ? { type: "object" } : reference(gives)),
      },
      default: { description: "What cannot be done, and what to do.", content: json(reference("Error")) },
    },
  };
}

const IF_MATCH = {
  name: "If-Match",
  in: "header",
  required: true,
  description: 'The version that the change is about, as it came in ETag: "3". If there is a newer one: 412.',
  schema: string(),
} as const;

const IDEMPOTENCY_KEY = {
  name: "Idempotency-Key",
  in: "header",
  required: false,
  description: "Drawn anew for each change; the same change under the same key is made once.",
  schema: { type: "string", maxLength: 64 },
} as const;

function string() {
  return { type: "string" } as const;
}

function json(schema: object) {
  return { "application/json": { schema } };
}

function reference(name: SchemaName) {
  return { $ref: `#/components/schemas/${name}` };
}

/** The schemas as JSON Schema 2020-12, the dialect of OpenAPI 3.1, referring to each other by name. */
function jsonSchemas(): Record<string, object> {
  const registry = z.registry<{ id: string }>();
  for (const [id, schema] of Object.entries(SCHEMAS)) registry.add(schema, { id });
  const { schemas } = z.toJSONSchema(registry, { uri: (id) => `#/components/schemas/${id}`, io: "input" });
  return Object.fromEntries(Object.entries(schemas).map(([name, { $schema, $id, ...schema }]) => [name, schema]));
}
