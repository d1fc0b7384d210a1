import type { Context } from "hono";
import { requestBounds } from "../../../data/parameters.ts";
import { Problem } from "../../core/problem.ts";
import { isIsoDate } from "../../core/quantities/dates.ts";
import type { Line, Vehicle } from "../../core/question/record.ts";
import type { VehicleQuery } from "../../store/vehicles.ts";
import type { Deps } from "../edge/deps.ts";
import { todayIn } from "../workspace.ts";
import { tagOf } from "./conditions.ts";
import { type ApiContext, PAGE_LIMIT } from "./operation.ts";

/** Shared by the addresses of the records: reading what was asked, and answering. */

/** A parameter of the route's path. */
export function param(c: Context, name: "id" | "entry"): string {
  return c.req.param(name)!;
}

/** The date today in the workspace's time zone. */
export async function today(c: ApiContext, deps: Deps): Promise<string> {
  return todayIn(await c.var.store.settings.get(), deps.now());
}

/** The date that `as_of` of the address asks for; undefined without one. Throws Problem for one out of range. */
export function dayAsked(c: Context): string | undefined {
  const as_of = c.req.query("as_of");
  const { min, max } = requestBounds.as_of;
  if (as_of === undefined || (isIsoDate(as_of) && as_of >= min && as_of <= max)) return as_of;
  throw wrongQuery("as_of", `Give a date from ${min} to ${max}, like 2026-05-01.`);
}

/** Which vehicles the address asks for. Throws Problem for a wrong parameter. */
export function vehicleQuery(c: Context): VehicleQuery {
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

/** Which part of a list the address asks for. Throws Problem for a wrong `limit`. */
export function paging(c: Context): { limit: number; after: string | null } {
  const asked = c.req.query("limit") ?? String(PAGE_LIMIT.default);
  const limit = /^\d{1,4}$/.test(asked) ? Number(asked) : 0;
  if (limit < 1 || limit > PAGE_LIMIT.max)
    throw wrongQuery("limit", `Give a whole number from 1 to ${PAGE_LIMIT.max}.`);
  return { limit, after: c.req.query("after") ?? null };
}

/** The Problem for a wrong parameter `path` of the address. */
export function wrongQuery(path: string, message: string): Problem {
  return new Problem("invalid", "The address needs correcting; each issue says where and how.", [{ path, message }]);
}

/** Something stored, with its version. */
export function tagged(c: Context, stored: Vehicle | Line<object>, status: 200 | 201 = 200) {
  c.header("ETag", tagOf(stored));
  return uncachedJson(c, stored, status);
}

/** An answer that no cache may keep. */
export function uncachedJson(c: Context, answer: object, status: 200 | 201 = 200) {
  c.header("Cache-Control", "no-store");
  return c.json(answer, status);
}
