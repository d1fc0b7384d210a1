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
 * The names that are still to be applied, in order. Throws `Problem` unavailable when the database is newer than this
 * program.
 */
export function pendingNames(names: readonly string[], applied: readonly string[]): string[] {
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
