import { Hono, type MiddlewareHandler } from "hono";
import { csrf } from "hono/csrf";
import { methodNotAllowed } from "hono/method-not-allowed";
import { requestId } from "hono/request-id";
import { apiRoutes } from "./web/api/routes.ts";
import { customersRoutes } from "./web/customers/routes.ts";
import { accessMiddleware, bearerOf } from "./web/edge/access.ts";
import { accessRoutes } from "./web/edge/access-routes.ts";
import type { App, AppEnv, Deps } from "./web/edge/deps.ts";
import { answerError, answerNotFound, answerWrongMethod } from "./web/edge/errors.ts";
import { healthRoutes } from "./web/edge/healthz.ts";
import { bodyLimits, timeLimits } from "./web/edge/limits.ts";
import { type Addresses, addressesOf, nearestPage } from "./web/edge/nearest-page.ts";
import { FRESH, secured, unlessWhole } from "./web/edge/whole-answer.ts";
import { fleetRoutes } from "./web/fleet/routes.ts";
import { invoicesRoutes } from "./web/invoices/routes.ts";
import { pricesRoutes } from "./web/prices/routes.ts";
import { offerRoutes } from "./web/quotes/offer-routes.ts";
import { quotesRoutes } from "./web/quotes/routes.ts";
import { readingsRoutes } from "./web/readings/routes.ts";
import { leakTestRoutes } from "./web/reference/leak-tests.ts";
import { methodRoutes } from "./web/reference/method.ts";
import { rulesRoutes } from "./web/reference/rules.ts";
import { refrigerantRoutes } from "./web/refrigerant/routes.ts";
import { followUpRoutes } from "./web/reminders/follow-up-routes.ts";
import { reminderRoutes } from "./web/reminders/routes.ts";
import { accessKeysRoutes } from "./web/settings/access-keys-routes.ts";
import { recordsRoutes } from "./web/settings/records-routes.ts";
import { settingsRoutes } from "./web/settings/settings-routes.ts";
import { shopRoutes } from "./web/shop/routes.ts";
import { startRoutes } from "./web/start/routes.ts";
import { topOffRoutes } from "./web/top-off/routes.ts";
import { vehicleRoutes } from "./web/vehicles/routes.ts";
import { sendSoon } from "./web/webhook/delivery.ts";
import { webhookRoutes } from "./web/webhook/routes.ts";

/**
 * The whole application, the same on every runtime.
 *
 * `addEdge` puts a runtime's own middleware before the routes, inside the security headers: host check, compression,
 * files.
 */
export function createApp(deps: Deps, addEdge: (app: App) => void = () => {}): App {
  const app = new Hono<AppEnv>();
  app.onError(answerError(deps));
  app.notFound(answerNotFound(deps));

  app.use(requestId());
  app.use(secured({ https: deps.access_mode === "links" }));
  addEdge(app);
  app.use(backToTheForm(app));
  app.use(methodNotAllowed({ app, onMethodNotAllowed: answerWrongMethod(deps) }));
  app.use(unlessWhole(freshPages));
  app.use(timeLimits());
  app.use(formsFromHere(deps));
  app.use(accessMiddleware(deps));
  app.use(bodyLimits());
  app.use(tellAfterChanges(deps));

  app.route("/", healthRoutes(deps));
  app.route("/", apiRoutes(deps));
  app.route("/", startRoutes(deps));
  app.route("/", methodRoutes(deps));
  app.route("/", readingsRoutes(deps));
  app.route("/", rulesRoutes(deps));
  app.route("/", topOffRoutes(deps));
  app.route("/", leakTestRoutes(deps));
  app.route("/", pricesRoutes(deps));
  app.route("/", customersRoutes(deps));
  app.route("/", invoicesRoutes(deps));
  app.route("/", refrigerantRoutes(deps));
  app.route("/", quotesRoutes(deps));
  app.route("/", offerRoutes(deps));
  app.route("/", shopRoutes(deps));
  app.route("/", vehicleRoutes(deps));
  app.route("/", fleetRoutes(deps));
  app.route("/", reminderRoutes(deps));
  app.route("/", followUpRoutes(deps));
  app.route("/", settingsRoutes(deps));
  app.route("/", accessKeysRoutes(deps));
  app.route("/", webhookRoutes(deps));
  app.route("/", recordsRoutes(deps));
  app.route("/", accessRoutes(deps));
  return app;
}

/** How many addresses are remembered, and how long they may be: anyone can make up more, and longer ones. */
const REMEMBERED = { paths: 1000, chars: 100 } as const;

/**
 * A form that was refused stands at the address that it was sent to: whoever loads that page again, or comes back to
 * it, is led to where the form is.
 */
function backToTheForm(app: App): MiddlewareHandler<AppEnv> {
  let addresses: Addresses | undefined;
  // Addresses that are no form's: all but a few are asked for again and again.
  const pages = new Set<string>();
  const ofMethod = (wanted: string) =>
    app.routes.filter(({ method, path }) => method === wanted && !path.startsWith("/api/")).map(({ path }) => path);
  return async function backToTheForm(c, next) {
    if (c.req.method !== "GET") return next();
    const { path } = c.req;
    if (pages.has(path)) return next();
    addresses ??= addressesOf({ pages: ofMethod("GET"), forms: ofMethod("POST") });
    const page = nearestPage(path, addresses);
    if (page !== null) return c.redirect(page, 303);
    if (pages.size >= REMEMBERED.paths) pages.clear();
    if (path.length <= REMEMBERED.chars) pages.add(path);
    return next();
  };
}

/** Whatever a change has put into the outbox is sent once it is answered. */
function tellAfterChanges(deps: Deps): MiddlewareHandler<AppEnv> {
  return async function tellAfterChanges(c, next) {
    await next();
    if (c.req.method !== "GET" && c.req.method !== "HEAD") sendSoon(deps, deps.sql(c));
  };
}

/** A page may be kept but is asked for again each time, and is not taken for the fragment at the same address. */
const freshPages: MiddlewareHandler = async function freshPages(c, next) {
  await next();
  // Set in place, and both now: `c.header`, here or in what compresses later, would make a new response of the body's
  // stream, which takes many times as long to send.
  if (!c.res.headers.has("Cache-Control")) c.res.headers.set("Cache-Control", FRESH["Cache-Control"]);
  c.res.headers.append("Vary", FRESH.Vary);
};

/**
 * A form of another site carries no bearer key: that needs a script, and leave from here, which nobody gets. Any other
 * `Authorization` is checked like none at all: browsers send Basic credentials by themselves.
 */
function formsFromHere(deps: Deps): MiddlewareHandler<AppEnv> {
  const fromHere = csrf({ origin: (origin, c) => origin === deps.origin(c) });
  return function formsFromHere(c, next) {
    return bearerOf(c) === null ? fromHere(c, next) : next();
  };
}
