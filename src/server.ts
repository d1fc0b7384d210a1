import { readFileSync, statSync } from "node:fs";
import { request, type Server } from "node:http";
import { basename, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { getConnInfo } from "@hono/node-server/conninfo";
import { serveStatic } from "@hono/node-server/serve-static";
import { millisecondsInDay } from "date-fns/constants";
import { compress } from "hono/compress";
import { createApp } from "./app.ts";
import { type Config, configFrom, isLoopback } from "./config.ts";
import { Problem } from "./core/problem.ts";
import { filePool } from "./file-pool.ts";
import { keepWorking } from "./keep-working.ts";
import { listen } from "./listen.ts";
import { modelPool } from "./model-pool.ts";
import { lastBackup } from "./operations/last-backup.ts";
import { errorLine } from "./operations/log.ts";
import { addMetrics } from "./operations/metrics.ts";
import { requestLog } from "./operations/request-log.ts";
import { packPage } from "./page-gzip.ts";
import { pooledRandom } from "./pooled-random.ts";
import { firstOwnerLink } from "./store/access.ts";
import { endEmptyWorkspace } from "./store/empty-workspaces.ts";
import { LazySql } from "./store/lazy-sql.ts";
import { DATABASE_FILE, openDatabase } from "./store/migrations.ts";
import type { NodeSql } from "./store/node-sqlite.ts";
import { ensureLocalWorkspace, LOCAL_WORKSPACE } from "./store/workspaces.ts";
import { type Asked, warmUp } from "./warm-up.ts";
import { assetUrl } from "./web/edge/asset-url.ts";
import { calendarDay } from "./web/edge/calendar-day.ts";
import type { Condition, Deps } from "./web/edge/deps.ts";
import { forwarded, noProxy } from "./web/edge/forwarded.ts";
import { ownHost } from "./web/edge/own-host.ts";
import { bucketLimits, NO_LIMITS } from "./web/edge/rate-limit.ts";
import { Room } from "./web/edge/room.ts";
import { HASHED_FILE_CACHE, WORKER_SCOPE } from "./web/edge/security.ts";
import { unlessWhole } from "./web/edge/whole-answer.ts";
import { resumeFleets } from "./web/fleet/background.ts";
import { sendSoon } from "./web/webhook/delivery.ts";
import { webhookPost } from "./webhook-post.ts";

const GRACE_MS = 10_000;
/** How often it is looked whether a message to a webhook is due again. */
const MESSAGES_EVERY_MS = 20_000;

/** Serves the built application from this machine until it is told to stop. Reads what to do from the environment. */
export function startServer(): void {
  const config = configOrExit();
  const hosts: string[] = [];
  const deps = nodeDeps(config);
  const app = createApp(deps, (edge) => {
    if (deps.access_mode === "local") edge.use(noProxy(), ownHost(hosts));
    if (config.log_requests) edge.use(requestLog(console.log));
    if (config.metrics_key !== null)
      addMetrics(edge, { key: config.metrics_key, recordsBytes: () => recordsBytes(config.data_dir) ?? 0 });
    edge.use(unlessWhole(compress()));
    edge.use("/assets/*", builtFiles());
  });
  const server = listen({ fetch: app.fetch, hostname: config.host, port: config.port }, (port) => {
    const names = new Set([hostInUrl(config.host), "127.0.0.1", "localhost", "[::1]"]);
    hosts.push(...[...names].map((name) => (port === 80 ? name : `${name}:${port}`)));
    console.log(`Seepwise is ready at http://${hostInUrl(config.host)}:${port} (stop it with Ctrl+C)`);
    void tellAboutRecords(deps, config).then(async () => {
      if (config.warm_up) await warmUp(askAt(config.host, port), calendarDay(deps.now(), "UTC"));
    });
  });
  server.on("error", (error: NodeJS.ErrnoException) => exit(cannotListen(error, config)));
  stopWhenAsked(server, () => closeRecords(deps.sql()));
}

/** Asks as a visitor on this machine does: over the network, whose code is cold at first, too. */
function askAt(host: string, port: number): (asked: Asked) => Promise<void> {
  const name = host === "0.0.0.0" || host === "::" ? "127.0.0.1" : hostInUrl(host);
  return ({ path, body, ...how }) =>
    new Promise((resolve, reject) => {
      const asking = request(`http://${name}:${port}${path}`, { ...how, agent: false }, (answer) => {
        answer.on("end", resolve).on("error", reject).resume();
      });
      asking.on("error", reject).end(body);
    });
}

function configOrExit(): Config {
  try {
    return configFrom(process.env);
  } catch (error) {
    if (error instanceof RangeError) exit(error.message);
    throw error;
  }
}

/** Looks once a day for workspaces that were begun and never used, one at a time. */
function endEmptyWorkspaces({ keepWorking, now, sql }: NodeDeps, days: number): void {
  const look = () => keepWorking?.("empty workspaces", () => endEmptyWorkspace(sql(), now(), days));
  setInterval(look, millisecondsInDay).unref();
  look();
}

/** Opens the records; prints how to get in, or why they cannot be opened. */
async function tellAboutRecords(deps: NodeDeps, { data_dir, empty_days }: Config): Promise<void> {
  const { sql, access_mode, now, random } = deps;
  try {
    await sql().ready();
    await resumeFleets(deps, sql());
    endEmptyWorkspaces(deps, empty_days);
    setInterval(() => sendSoon(deps, sql()), MESSAGES_EVERY_MS).unref();
    const key = access_mode === "links" ? await firstOwnerLink({ sql: sql(), now, random }, LOCAL_WORKSPACE) : null;
    if (key !== null) console.log(`Owner's access link, works once: https://YOUR-ADDRESS/access/${key}`);
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    console.error(`The records in ${resolve(data_dir)}: ${error.message}`, error.cause ?? "");
  }
}

interface NodeDeps extends Deps {
  sql(): LazySql<NodeSql>;
}

/** Leaves everything in the one file, so that a copy of it made while the server is stopped is whole. */
async function closeRecords(records: LazySql<NodeSql>): Promise<void> {
  const sql = await records.opened();
  if (sql === null) return;
  try {
    sql.checkpoint();
  } finally {
    sql.close();
  }
}

function nodeDeps({ host, data_dir, behind_proxy, new_records, workspace_bytes }: Config): NodeDeps {
  const manifest: Record<string, string> = JSON.parse(readFileSync(builtPath("assets.json"), "utf8"));
  const { timeZone } = Intl.DateTimeFormat().resolvedOptions();
  const now = () => new Date();
  const records = new LazySql(async () => {
    const sql = await openDatabase(join(data_dir, DATABASE_FILE));
    await ensureLocalWorkspace({ sql, now, settings: { time_zone: timeZone } });
    return sql;
  });
  const since = now().toISOString();
  let last_error: Condition["last_error"] = null;
  const records_bytes = () => recordsBytes(data_dir);
  const local = isLoopback(host) && !behind_proxy;
  const { measure, ...files } = filePool(builtPath("file-worker.js"), join(data_dir, DATABASE_FILE));
  const most = () => records_bytes() ?? 0;
  const room = local ? null : new Room({ limit_bytes: workspace_bytes, most, measure, now });
  const limits = local ? NO_LIMITS : bucketLimits(now);
  return {
    now,
    sql: () => records,
    sqlToBegin: () => records,
    access_mode: local ? "local" : "links",
    newcomers: () => new_records,
    timeZone: () => timeZone,
    today: () => calendarDay(new Date(), timeZone),
    clientAddress: behind_proxy ? forwarded.address : (c) => getConnInfo(c).remote.address ?? null,
    origin: behind_proxy ? forwarded.origin : (c) => new URL(c.req.url).origin,
    limits: () => limits,
    model: modelPool(builtPath("model-worker.js")),
    room: () => room,
    ...files,
    random: pooledRandom(),
    asset: assetUrl(manifest),
    packPage,
    condition: async () => ({
      of_all: true,
      bytes: records_bytes(),
      last_backup: lastBackup(data_dir),
      last_error,
      since,
    }),
    post: webhookPost(),
    keepWorking: keepWorking((error) => console.error(errorLine(error, { where: "background" }))),
    reportError: (error, request) => {
      last_error = { at: now().toISOString(), id: request.id };
      console.error(errorLine(error, request));
    },
  };
}

/** Bytes of the file with the records and of the log beside it; null before there are any. */
function recordsBytes(data_dir: string): number | null {
  const sizes = ["", "-wal"].map((suffix) =>
    statSync(join(data_dir, DATABASE_FILE + suffix), { throwIfNoEntry: false }),
  );
  return sizes[0] === undefined ? null : sizes.reduce((sum, file) => sum + (file?.size ?? 0), 0);
}

function builtFiles() {
  return serveStatic({
    root: builtPath("public"),
    precompressed: true,
    onFound: (path, c) => {
      c.header("Cache-Control", HASHED_FILE_CACHE);
      if (!basename(path).startsWith("device-")) return;
      for (const [name, value] of Object.entries(WORKER_SCOPE)) c.header(name, value);
    },
  });
}

/** The bundle lies beside what else was built, wherever it is started from. */
function builtPath(name: string): string {
  return fileURLToPath(new URL(name, import.meta.url));
}

function hostInUrl(host: string): string {
  return host.includes(":") ? `[${host}]` : host;
}

function cannotListen(error: NodeJS.ErrnoException, { host, port }: Config): string {
  switch (error.code) {
    case "EADDRINUSE":
      return `Port ${port} is in use, maybe by another Seepwise. Stop that one, or choose another port: PORT=${port + 1} npm start`;
    case "EACCES":
      return `This account may not use port ${port}. Choose one above 1023: PORT=8787 npm start`;
    case "EADDRNOTAVAIL":
    case "ENOTFOUND":
      return `"${host}" is not an address of this machine. Leave HOST out to be reachable from this machine only.`;
    default:
      return `Cannot listen on ${host}:${port}: ${error.message}`;
  }
}

function exit(message: string): never {
  console.error(message);
  process.exit(1);
}

/** Finishes the answers under way, then calls `close` and ends; a second request to stop ends at once. */
function stopWhenAsked(server: Server, close: () => Promise<void>): void {
  let stopping = false;
  const stop = () => {
    if (stopping) process.exit(1);
    stopping = true;
    server.close(async () => {
      try {
        await close();
        process.exit(0);
      } catch (error) {
        console.error("The records could not be closed:", error);
        process.exit(1);
      }
    });
    // A connection that is busy now would be kept alive for more: close each as it falls idle.
    setInterval(() => server.closeIdleConnections(), 50);
    setTimeout(() => server.closeAllConnections(), GRACE_MS).unref();
  };
  process.on("SIGTERM", stop);
  process.on("SIGINT", stop);
}
