import { Problem } from "../core/problem.ts";

/** A numbered change of the schema. */
export interface Migration {
  /** Like `0001_begin.sql`; they are applied in the order of their names. */
  name: string;
  sql: string;
}

/** Which migrations a database has seen. The table is named after the first hosted engine; old files have it. */
export const MIGRATIONS_TABLE = `CREATE TABLE IF NOT EXISTS d1_migrations (
  id         INTEGER PRIMARY KEY AUTOINCREMENT,
  name       TEXT UNIQUE,
  applied_at TIMESTAMP DEFAULT CURRENT_TIMESTAMP NOT NULL
)`;

export const SELECT_APPLIED = "SELECT name FROM d1_migrations ORDER BY id";

/** One script that makes the change and remembers it, to be run as a whole or not at all. */
export function migrationScript({ name, sql }: Migration): string {
  return `INSERT INTO d1_migrations (name) VALUES ('${name}');\n${sql}`;
}

/**
 * What files were called when they landed, while two had one number: databases of those days remember that name.
 *
 * @internal Called from outside by tests alone.
 */
export const LATER_CALLED: Readonly<Record<string, string>> = {
  "0008_session_expiry.sql": "0010_session_expiry.sql",
  "0012_invoices.sql": "0013_invoices.sql",
  "0013_refrigerant_log.sql": "0014_refrigerant_log.sql",
  "0018_webhooks.sql": "0019_webhooks.sql",
  "0024_imports.sql": "0025_imports.sql",
};

/**
 * The names that are still to be applied, in order. Throws `Problem` unavailable when the database is newer than this
 * program.
 */
export function pendingNames(names: readonly string[], remembered: readonly string[]): string[] {
  const applied = remembered.map((name) => LATER_CALLED[name] ?? name);
  const unknown = applied.filter((name) => !names.includes(name));
  if (unknown.length > 0)
    throw new Problem(
      "unavailable",
      `These records were written by a newer Seepwise (${unknown.join(", ")}). Start that one, or a newer one.`,
    );
  return names.filter((name) => !applied.includes(name)).sort();
}

/** Whether a file in the folder of migrations is one. */
export function isMigration(file: string): boolean {
  return /^\d{4}_\w+\.sql$/.test(file);
}
