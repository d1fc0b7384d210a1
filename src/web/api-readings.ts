import { Hono } from "hono";
import { readingBounds } from "../../data/readings-table.ts";
import { REFRIGERANTS } from "../core/contract.ts";
import { Problem } from "../core/problem.ts";
import { CLUTCH, CONDENSER, FAN, MORE_AIR } from "../core/readings/contract.ts";
import { judgeReadings } from "../core/readings.ts";
import { issuesOf } from "./assess-request.ts";
import { fields, oneOf, quantity } from "./assess-schema.ts";
import type { AppEnv } from "./deps.ts";
import { jsonBody } from "./json-body.ts";

export const readingsSchema = fields({
  refrigerant: oneOf(REFRIGERANTS),
  ambient_c: quantity(readingBounds.ambient_c).nullish(),
  humidity_percent: quantity(readingBounds.humidity_percent).nullish(),
  static_kpa: quantity(readingBounds.static_kpa).nullish(),
  nameplate_g: quantity(readingBounds.nameplate_g).nullish(),
  system_volume_ml: quantity(readingBounds.system_volume_ml).nullish(),
  altitude_m: quantity(readingBounds.altitude_m).nullish(),
  low_kpa: quantity(readingBounds.low_kpa).nullish(),
  high_kpa: quantity(readingBounds.high_kpa).nullish(),
  engine_rpm: quantity(readingBounds.engine_rpm).nullish(),
  vent_c: quantity(readingBounds.vent_c).nullish(),
  clutch: oneOf(CLUTCH).nullish(),
  fan: oneOf(FAN).nullish(),
  condenser: oneOf(CONDENSER).nullish(),
  more_air: oneOf(MORE_AIR).nullish(),
});

/**
 * `POST /api/readings`: readings in °C, kPa absolute, % and rpm in, ranked findings out. Without `ambient_c` the answer is
 * `{ "kind": "question", "asks": "ambient_c" }`.
 */
export function apiReadingsRoutes() {
  return new Hono<AppEnv>().post("/api/readings", async (c) => {
    const parsed = readingsSchema.safeParse(await jsonBody(c));
    if (!parsed.success) {
      const issues = parsed.error.issues.flatMap(issuesOf);
      throw new Problem("invalid", "The readings need correcting; each issue says where and how.", issues);
    }
    c.header("Cache-Control", "no-store");
    return c.json(judgeReadings(parsed.data));
  });
}
