/** What a line of the log is about: a request by its id and its pattern, never by its path, which may hold a key. */
export interface LoggedRequest {
  id: string;
  method: string;
  route: string;
}

/** One line of JSON for each event, as whatever collects logs reads it. */
export function logLine(level: "info" | "error", event: string, fields: object, now = new Date()): string {
  return JSON.stringify({ at: now.toISOString(), level, event, ...fields });
}

/** What nobody expected, with its stack, on one line. */
export function errorLine(error: unknown, about: LoggedRequest | { where: string }): string {
  const told =
    error instanceof Error
      ? { name: error.name, message: error.message, stack: error.stack }
      : { message: String(error) };
  return logLine("error", "unexpected", { ...about, error: told });
}
