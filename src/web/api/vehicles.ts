import { type Context, Hono } from "hono";
import { requestBounds } from "../../../data/parameters.ts";
import { Problem } from "../../core/problem.ts";
import { isIsoDate } from "../../core/quantities/dates.ts";
import type { Line, Vehicle } from "../../core/question/record.ts";
import { notFound } from "../../store/errors.ts";
import type { Ledger } from "../../store/ledger.ts";
import type { VehicleQuery } from "../../store/vehicles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { jsonBody } from "../edge/json-body.ts";
import {
  type EntryContext,
  readChargeEntry,
  readFinding,
  readNewVehicle,
  readNote,
  readReadings,
  readVehicle,
} from "../schemas/record-input.ts";
import { vehicleAnswer } from "../vehicle-answer.ts";
import { todayIn } from "../workspace.ts";
import { submitKeyOf, tagOf, versionOf } from "./conditions.ts";

export const PAGE_LIMIT = { default: 100, max: 200 } as const;

/**
 * The records as JSON: vehicles, and their charge log, findings, readings and notes. What is stored carries its version as ETag;
 * whoever changes it names that version in If-Match. `api-openapi.ts` describes every address.
 */
export function vehicleApi(deps: Deps) {
  const app = new Hono<AppEnv>();

  app.get("/api/vehicles", requireRole("viewer"), async (c) => {
    return told(c, await c.var.store.vehicles.list(vehicleQuery(c)));
  });
  app.post("/api/vehicles", requireRole("editor"), async (c) => {
    const { vehicle, first } = readNewVehicle(await jsonBody(c), await today(c, deps));
    const created = await c.var.store.vehicles.create(vehicle, first, submitKeyOf(c));
    c.header("Location", `/api/vehicles/${created.id}`);
    return tagged(c, created, 201);
  });
  app.get("/api/vehicles/:id", requireRole("viewer"), async (c) => {
    return tagged(c, await c.var.store.vehicles.get(c.req.param("id")));
  });
  app.put("/api/vehicles/:id", requireRole("editor"), async (c) => {
    const [version, vehicle] = [versionOf(c), readVehicle(await jsonBody(c))];
    return tagged(c, await c.var.store.vehicles.update(c.req.param("id"), version, vehicle, submitKeyOf(c)));
  });
  app.put("/api/vehicles/:id/archival", requireRole("editor"), async (c) => {
    return tagged(c, await c.var.store.vehicles.archive(c.req.param("id"), versionOf(c), submitKeyOf(c)));
  });
  app.delete("/api/vehicles/:id/archival", requireRole("editor"), async (c) => {
    return tagged(c, await c.var.store.vehicles.unarchive(c.req.param("id"), versionOf(c), submitKeyOf(c)));
  });
  app.get("/api/vehicles/:id/assessment", requireRole("viewer"), async (c) => {
    const { answer } = await vehicleAnswer(deps, c.var.store, c.req.param("id"), dayAsked(c));
    return told(c, answer);
  });

  addLedger(app, deps, { path: "charge-log", of: ({ chargeLog }) => chargeLog, read: readChargeEntry });
  addLedger(app, deps, { path: "findings", of: ({ findings }) => findings, read: readFinding });
  addLedger(app, deps, { path: "readings", of: ({ readings }) => readings, read: readReadings });
  addLedger(app, deps, { path: "notes", of: ({ notes }) => notes, read: readNote });
  return app;
}

type GrantedContext = Context<AppEnv & GrantedEnv>;

interface ApiLedger<Content extends object, Input extends object> {
  path: string;
  of(store: WorkspaceStore): Ledger<Content, Input>;
  read(body: unknown, context: EntryContext): Input;
}

/** The addresses of one ledger: what holds now, its history, and entries to add, correct, remove and undo. */
function addLedger<Content extends object, Input extends object>(
  app: Hono<AppEnv>,
  deps: Deps,
  { path, of, read }: ApiLedger<Content, Input>,
): void {
  const entries = `/api/vehicles/:id/${path}` as const;
  const entry = `${entries}/:entry` as const;

  app.get(entries, requireRole("viewer"), async (c) => {
    return told(c, { items: await of(c.var.store).list(param(c, "id")), next: null });
  });
  app.post(entries, requireRole("editor"), async (c) => {
    const vehicle = await c.var.store.vehicles.get(param(c, "id"));
    const input = read(await jsonBody(c), { vehicle, today: await today(c, deps) });
    const line = await of(c.var.store).add(vehicle.id, input, submitKeyOf(c));
    c.header("Location", `/api/vehicles/${vehicle.id}/${path}/${line.id}`);
    return tagged(c, line, 201);
  });
  app.get(`/api/vehicles/:id/history/${path}`, requireRole("viewer"), async (c) => {
    return told(c, await of(c.var.store).history(param(c, "id"), paging(c)));
  });
  app.get(entry, requireRole("viewer"), async (c) => {
    return tagged(c, (await versionsOf(c, of(c.var.store))).at(-1)!);
  });
  app.get(`${entry}/versions`, requireRole("viewer"), async (c) => {
    return told(c, { items: await versionsOf(c, of(c.var.store)), next: null });
  });
  app.put(entry, requireRole("editor"), async (c) => {
    await versionsOf(c, of(c.var.store));
    const version = versionOf(c);
    const vehicle = await c.var.store.vehicles.get(param(c, "id"));
    const input = read(await jsonBody(c), { vehicle, today: await today(c, deps) });
    return tagged(c, await of(c.var.store).correct(param(c, "entry"), version, input, submitKeyOf(c)));
  });
  app.delete(entry, requireRole("editor"), async (c) => {
    await versionsOf(c, of(c.var.store));
    return tagged(c, await of(c.var.store).remove(param(c, "entry"), versionOf(c), submitKeyOf(c)));
  });
  app.post(`${entry}/undo`, requireRole("editor"), async (c) => {
    await versionsOf(c, of(c.var.store));
    return tagged(c, await of(c.var.store).undo(param(c, "entry"), versionOf(c), submitKeyOf(c)));
  });
}

/** All lines of the entry in the address. Throws `Problem` not-found when it belongs to another vehicle. */
async function versionsOf<Content extends object, Input extends object>(
  c: GrantedContext,
  ledger: Ledger<Content, Input>,
): Promise<Line<Content>[]> {
  const lines = await ledger.versions(param(c, "entry"));
  if (lines[0]!.vehicle_id !== param(c, "id")) throw notFound("entry of this vehicle");
  return lines;
}

/** A part of the address that the route's path names. */
function param(c: Context, name: "id" | "entry"): string {
  return c.req.param(name)!;
}

async function today(c: GrantedContext, deps: Deps): Promise<string> {
  return todayIn(await c.var.store.settings.get(), deps.now());
}

function dayAsked(c: Context): string | undefined {
  const as_of = c.req.query("as_of");
  const { min, max } = requestBounds.as_of;
  if (as_of === undefined || (isIsoDate(as_of) && as_of >= min && as_of <= max)) return as_of;
  throw wrongQuery("as_of", `Give a date from ${min} to ${max}, like 2026-05-01.`);
}

function vehicleQuery(c: Context): VehicleQuery {
  const { search, fleet_group, depot, archived = "false" } = c.req.query();
  if (archived !== "true" && archived !== "false") throw wrongQuery("archived", "Give true or false.");
  return {
    ...paging(c),
    archived: archived === "true",
    ...(search === undefined ? {} : { search }),
    ...(fleet_group === undefined ? {} : { fleet_group }),
    ...(depot === undefined ? {} : { depot }),
  };
}

function paging(c: Context): { limit: number; after: string | null } {
  const asked = c.req.query("limit") ?? String(PAGE_LIMIT.default);
  const limit = /^\d{1,4}$/.test(asked) ? Number(asked) : 0;
  if (limit < 1 || limit > PAGE_LIMIT.max)
    throw wrongQuery("limit", `Give a whole number from 1 to ${PAGE_LIMIT.max}.`);
  return { limit, after: c.req.query("after") ?? null };
}

function wrongQuery(path: string, message: string): Problem {
  return new Problem("invalid", "The address needs correcting; each issue says where and how.", [{ path, message }]);
}

function tagged(c: Context, stored: Vehicle | Line<object>, status: 200 | 201 = 200) {
  c.header("ETag", tagOf(stored));
  return told(c, stored, status);
}

function told(c: Context, answer: object, status: 200 | 201 = 200) {
  c.header("Cache-Control", "no-store");
  return c.json(answer, status);
}
