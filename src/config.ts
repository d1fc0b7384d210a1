/** Where a server on this machine listens and keeps its records. */
export interface Config {
  host: string;
  port: number;
  data_dir: string;
  /** Others reach it through a proxy on this machine or before it, whose word about them is taken. */
  behind_proxy: boolean;
  /** Someone without access may begin records of their own. */
  new_records: boolean;
  /** What one workspace may take. */
  workspace_bytes: number;
  /** How long a workspace in which nothing is kept stays. */
  empty_days: number;
  /** Whoever sends this as a bearer key reads `/metrics`; null: nobody does. */
  metrics_key: string | null;
  /** Write a line for each request. */
  log_requests: boolean;
  /** Ask itself a few dozen questions after the start, so that the first visitor does not wait for cold code. */
  warm_up: boolean;
}

/** Shorter ones are guessed. */
const SHORTEST_KEY = 16;

/**
 * Reads `HOST`, `PORT`, `DATA_DIR`, `BEHIND_PROXY`, `NEW_RECORDS`, `WORKSPACE_MB`, `EMPTY_DAYS`, `METRICS_KEY`,
 * `LOG_REQUESTS` and `WARM_UP`; an empty one counts as absent. Throws RangeError with a message for the person.
 */
export function configFrom(env: Readonly<Record<string, string | undefined>>): Config {
  const port_text = env.PORT || "8787";
  const port = /^\d{1,5}$/.test(port_text) ? Number(port_text) : Number.NaN;
  if (!(port <= 65_535))
    throw new RangeError(`PORT must be a whole number from 0 to 65535, like 8787; it is "${port_text}".`);
  const metrics_key = env.METRICS_KEY || null;
  if (metrics_key !== null && metrics_key.length < SHORTEST_KEY)
    throw new RangeError(`METRICS_KEY must have at least ${SHORTEST_KEY} characters, drawn by chance.`);
  return {
    metrics_key,
    workspace_bytes: workspaceBytesOf(env.WORKSPACE_MB),
    empty_days: emptyDaysOf(env.EMPTY_DAYS),
    log_requests: yesOrNo(env, "LOG_REQUESTS"),
    warm_up: yesOrNo(env, "WARM_UP", "yes"),
    behind_proxy: yesOrNo(env, "BEHIND_PROXY"),
    new_records: yesOrNo(env, "NEW_RECORDS"),
    host: env.HOST || "127.0.0.1",
    port,
    data_dir: env.DATA_DIR || "data-dir",
  };
}

/** Ten thousand vehicles with ten years of entries and their answers take about half of it. */
const WORKSPACE_MB = 1000;

/** What one workspace may take, from what was set: megabytes; nothing said: `WORKSPACE_MB`. Throws RangeError. */
export function workspaceBytesOf(said: string | undefined): number {
  const text = said || String(WORKSPACE_MB);
  if (!/^[1-9]\d{0,6}$/.test(text))
    throw new RangeError(`WORKSPACE_MB must be a whole number of megabytes, like ${WORKSPACE_MB}; it is "${text}".`);
  return Number(text) * 1e6;
}

const EMPTY_DAYS = 30;

/** How long an empty workspace stays, from what was set: days; nothing said: `EMPTY_DAYS`. Throws RangeError. */
export function emptyDaysOf(said: string | undefined): number {
  const text = said || String(EMPTY_DAYS);
  const days = /^\d{1,4}(?:\.\d{1,6})?$/.test(text) ? Number(text) : 0;
  if (days === 0)
    throw new RangeError(`EMPTY_DAYS must be a number of days above 0, like ${EMPTY_DAYS}; it is "${text}".`);
  return days;
}

function yesOrNo(env: Readonly<Record<string, string | undefined>>, name: string, unsaid = "no"): boolean {
  const said = env[name] || unsaid;
  if (said !== "yes" && said !== "no") throw new RangeError(`${name} must be yes or no; it is "${said}".`);
  return said === "yes";
}

/** Whether only this machine can reach a server bound to `host`. */
export function isLoopback(host: string): boolean {
  return host === "localhost" || host === "::1" || /^127\.\d{1,3}\.\d{1,3}\.\d{1,3}$/.test(host);
}
