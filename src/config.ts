/** Where a server on this machine listens and keeps its records. */
export interface Config {
  host: string;
  port: number;
  data_dir: string;
  /** Others reach it through a proxy on this machine or before it, whose word about them is taken. */
  behind_proxy: boolean;
}

/**
 * Reads `HOST`, `PORT`, `DATA_DIR` and `BEHIND_PROXY`; an empty one counts as absent. Throws RangeError with a message
 * for the person.
 */
export function configFrom(env: Readonly<Record<string, string | undefined>>): Config {
  const port_text = env.PORT || "8787";
  const port = /^\d{1,5}$/.test(port_text) ? Number(port_text) : Number.NaN;
  if (!(port <= 65_535))
    throw new RangeError(`PORT must be a whole number from 0 to 65535, like 8787; it is "${port_text}".`);
  const proxy = env.BEHIND_PROXY || "no";
  if (proxy !== "yes" && proxy !== "no") throw new RangeError(`BEHIND_PROXY must be yes or no; it is "${proxy}".`);
  return { behind_proxy: proxy === "yes", host: env.HOST || "127.0.0.1", port, data_dir: env.DATA_DIR || "data-dir" };
}

/** Whether only this machine can reach a server bound to `host`. */
export function isLoopback(host: string): boolean {
  return host === "localhost" || host === "::1" || /^127\.\d{1,3}\.\d{1,3}\.\d{1,3}$/.test(host);
}
