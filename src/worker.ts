import type { D1Database } from "@cloudflare/workers-types";
import manifest from "../dist/assets.json";
import { createApp } from "./app.ts";
import { D1Sql } from "./store/d1.ts";
import { assetUrl } from "./web/edge/asset-url.ts";
import { calendarDay } from "./web/edge/calendar-day.ts";
import type { Deps } from "./web/edge/deps.ts";
import { MODEL_IN_PLACE } from "./web/edge/model.ts";
import { boundLimit, type RateLimitBinding } from "./web/edge/rate-limit.ts";

interface Bindings {
  DB: D1Database;
  /** `yes`: someone without access may begin records of their own. */
  NEW_RECORDS?: string;
  /** Limits by address, declared in wrangler.toml; where one is not set up, nothing limits that. */
  GUESSES?: RateLimitBinding;
  BEGINS?: RateLimitBinding;
  QUESTIONS?: RateLimitBinding;
}

const deps: Deps = {
  now: () => new Date(),
  timeZone: (c) => timeZoneOf(c.req.raw),
  today: (c) => calendarDay(new Date(), timeZoneOf(c.req.raw)),
  clientAddress: (c) => c.req.header("CF-Connecting-IP") ?? null,
  origin: (c) => new URL(c.req.url).origin,
  limits: (c) => {
    const { GUESSES, BEGINS, QUESTIONS } = c.env as Bindings;
    return { guesses: boundLimit(GUESSES), begins: boundLimit(BEGINS), questions: boundLimit(QUESTIONS) };
  },
  model: MODEL_IN_PLACE,
  random: (bytes) => crypto.getRandomValues(new Uint8Array(bytes)),
  asset: assetUrl(manifest),
  sql: (c) => new D1Sql((c.env as Bindings).DB),
  access_mode: "links",
  newcomers: (c) => (c.env as Bindings).NEW_RECORDS === "yes",
  keepWorking: null,
  reportError: (error, request) => console.error(request, error),
};

const app = createApp(deps);

/** Where the person is: the edge knows their time zone. Elsewhere than at the edge it is UTC. */
function timeZoneOf(request: Request): string {
  const { cf } = request as Request & { cf?: { timezone?: string } };
  return cf?.timezone ?? "UTC";
}

export default { fetch: app.fetch };
