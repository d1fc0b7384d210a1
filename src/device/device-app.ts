import { type Context, Hono, type MiddlewareHandler } from "hono";
import { secureHeaders } from "hono/secure-headers";
import { NoConnectionPage } from "../../views/device/no-connection-page.tsx";
import { OnDevice } from "../../views/device/on-device.tsx";
import { CAME_WITH_HEADER, ON_DEVICE_HEADER } from "../../views/words/on-device.ts";
import { calendarDay } from "../web/edge/calendar-day.ts";
import type { App, AppEnv, Deps } from "../web/edge/deps.ts";
import { answerError } from "../web/edge/errors.ts";
import { MODEL_IN_PLACE } from "../web/edge/model.ts";
import { answerPage } from "../web/edge/page.ts";
import { NO_LIMITS } from "../web/edge/rate-limit.ts";
import { securityHeaders } from "../web/edge/security.ts";
import { readingsRoutes } from "../web/readings/routes.ts";
import { leakTestRoutes } from "../web/reference/leak-tests.ts";
import { methodRoutes } from "../web/reference/method.ts";
import { rulesRoutes } from "../web/reference/rules.ts";
import { startRoutes } from "../web/start/routes.ts";
import { topOffRoutes } from "../web/top-off/routes.ts";
import type { DeviceDeps } from "./device-deps.ts";
import { canWait } from "./waiting.ts";
import { writeDownRoutes } from "./write-down.ts";

/**
 * The application as far as it needs no records, for a device without a connection: the same routes as on the server,
 * computed in place, for someone who has no access to anything. Whole pages say that they were made here; the answer to
 * everything else is that it needs a connection.
 */
export function deviceApp(device: DeviceDeps): App {
  const deps = depsOf(device);
  const app = new Hono<AppEnv>();
  app.onError(answerError(deps));
  app.notFound((c) => answerPage(c, NoConnectionPage({ asset: deps.asset, log: logOf(c.req.path) }), 503));
  app.use(secureHeaders(securityHeaders({ https: false })));
  app.route("/", writeDownRoutes(device));
  app.use(saysSo);
  app.use(wholePageForOthers(deps.asset("device.js")));
  app.use(nobodysVisit);
  app.route("/", startRoutes(deps));
  app.route("/", readingsRoutes(deps));
  app.route("/", topOffRoutes(deps));
  app.route("/", rulesRoutes(deps));
  app.route("/", leakTestRoutes(deps));
  app.route("/", methodRoutes(deps));
  return app;
}

/** The log of the vehicle whose page was asked for; null for any other page. */
function logOf(path: string): string | null {
  const log = `${/^\/vehicles\/[^/]+/.exec(path)?.[0]}/log`;
  return canWait(log) && !NO_VEHICLE.test(path) ? log : null;
}

const NO_VEHICLE = /^\/vehicles\/(new|for-entry|examples)\b/;

function depsOf({ asset, now, time_zone, random }: DeviceDeps): Deps {
  return {
    now,
    timeZone: () => time_zone,
    today: () => calendarDay(now(), time_zone),
    clientAddress: () => null,
    origin: (c) => new URL(c.req.url).origin,
    room: () => null,
    limits: () => NO_LIMITS,
    model: MODEL_IN_PLACE,
    // Files are read where the records are.
    workbook: async () => ({ ok: false, message: "This needs a connection." }),
    random,
    asset,
    packPage: null,
    sql: noRecords,
    sqlToBegin: noRecords,
    access_mode: "links",
    newcomers: () => false,
    keepWorking: null,
    post: noRecords,
    condition: noRecords,
    reportError: (error, request) => console.error(request, error),
  };
}

function noRecords(): never {
  throw new Error("There are no records on this device");
}

const nobodysVisit: MiddlewareHandler<AppEnv> = async function nobodysVisit(c, next) {
  c.set("requestId", crypto.randomUUID());
  c.set("visit", { access: async () => null, store: noRecords });
  await next();
};

const MAIN = /<main [^<>]*>/;

/** Puts the line into a whole page; the page that a part goes into is told by the header. */
const saysSo: MiddlewareHandler<AppEnv> = async function saysSo(c, next) {
  await next();
  const { status, headers } = c.res;
  if (headers.get("Content-Type")?.startsWith("text/html") !== true) return;
  const page = await c.res.text();
  const line = status === 503 ? "" : OnDevice().toString();
  // Its text goes behind the tag as it is: a replacement as a string would read "$" in it.
  const said = page.replace(MAIN, (main) => main + line);
  headers.delete("ETag");
  headers.set("Cache-Control", "no-store");
  headers.set(ON_DEVICE_HEADER, "yes");
  c.res = new Response(said, { status, headers });
};

/**
 * A page that came with another version gets no part of this one, whose styles and scripts it does not have: it is led
 * to the whole page.
 */
function wholePageForOthers(own: string): MiddlewareHandler<AppEnv> {
  return async function wholePageForOthers(c: Context, next) {
    const came_with = c.req.header(CAME_WITH_HEADER);
    if (came_with === undefined || came_with === own) return next();
    const { pathname, search } = new URL(c.req.url);
    return c.body(null, 200, { "HX-Redirect": `${pathname}${search}` });
  };
}
