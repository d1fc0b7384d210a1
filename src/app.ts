import { Hono, type MiddlewareHandler } from "hono";
import { bodyLimit } from "hono/body-limit";
import { csrf } from "hono/csrf";
import { methodNotAllowed } from "hono/method-not-allowed";
import { requestId } from "hono/request-id";
import { secureHeaders } from "hono/secure-headers";
import { timeout } from "hono/timeout";
import { Problem } from "./core/problem.ts";
import { accessMiddleware } from "./web/access.ts";
import { accessRoutes } from "./web/access-routes.ts";
import { assessRoutes } from "./web/api-assess.ts";
import { apiReadingsRoutes } from "./web/api-readings.ts";
import type { App, AppEnv, Deps } from "./web/deps.ts";
import { answerError, answerNotFound, answerWrongMethod } from "./web/errors.ts";
import { healthRoutes } from "./web/healthz.ts";
import { leakTestRoutes } from "./web/leak-tests.ts";
import { methodRoutes } from "./web/method.ts";
import { readingsRoutes } from "./web/readings.ts";
import { rulesRoutes } from "./web/rules.ts";
import { contentSecurityPolicy } from "./web/security.ts";
import { startRoutes } from "./web/start.ts";
import { topOffRoutes } from "./web/top-off.ts";

const BODY_LIMIT_BYTES = 256 * 1024;
const TIME_LIMIT_MS = 30_000;

/**
 * The whole application, the same on every runtime.
 *
 * `addEdge` puts a runtime's own middleware before the routes, inside the security headers: host check, compression, files.
 */
export function createApp(deps: Deps, addEdge: (app: App) => void = () => {}): App {
  const app = new Hono<AppEnv>();
  app.onError(answerError(deps));
  app.notFound(answerNotFound(deps));

  app.use(requestId());
  // "same-origin", because under "no-referrer" a browser sends forms with `Origin: null`, which the CSRF check must refuse.
  app.use(secureHeaders({ contentSecurityPolicy, referrerPolicy: "same-origin", xFrameOptions: "DENY" }));
  addEdge(app);
  app.use(methodNotAllowed({ app, onMethodNotAllowed: answerWrongMethod(deps) }));
  app.use(freshPages);
  app.use(timeout(TIME_LIMIT_MS));
  app.use(csrf());
  app.use(accessMiddleware(deps));
  app.use(bodyLimit({ maxSize: BODY_LIMIT_BYTES, onError: refuseLargeBody }));

  app.route("/", healthRoutes());
  app.route("/", assessRoutes(deps));
  app.route("/", apiReadingsRoutes());
  app.route("/", startRoutes(deps));
  app.route("/", methodRoutes(deps));
  app.route("/", readingsRoutes(deps));
  app.route("/", rulesRoutes(deps));
  app.route("/", topOffRoutes(deps));
  app.route("/", leakTestRoutes(deps));
  app.route("/", accessRoutes(deps));
  return app;
}

/** A page may be kept but is asked for again each time, and is not taken for the fragment at the same address. */
const freshPages: MiddlewareHandler = async function freshPages(c, next) {
  await next();
  if (!c.res.headers.has("Cache-Control")) c.header("Cache-Control", "private, no-cache");
  c.header("Vary", "HX-Request", { append: true });
};

function refuseLargeBody(): never {
  throw new Problem("too-large", `Send at most ${BODY_LIMIT_BYTES / 1024} KiB at once.`);
}
