import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { Problem } from "../core/problem.ts";
import { ConstraintFailed } from "./errors.ts";
import { NodeSql } from "./node-sqlite.ts";

const TABLE = `CREATE TABLE IF NOT EXISTS d1_migrations (
  id         INTEGER PRIMARY KEY AUTOINCREMENT,
  name       TEXT UNIQUE,
  applied_at TIMESTAMP DEFAULT CURRENT_TIMESTAMP NOT NULL
)`;

/**
 * Applies the numbered files that this database has not seen yet, in order, each whole or not at all, and remembers
 * them in the table that the hosted engine's own tool fills. Throws `Problem` unavailable when the database is newer
 * than this program.
 */
export async function migrate(db: NodeSql, folder = migrationsFolder()): Promise<void> {
  const files = readdirSync(folder)
    .filter((name) => /^\d{4}_\w+\.sql$/.test(name))
    .sort();
  await db.all(TABLE);
  const applied = (await db.all<{ name: string }>("SELECT name FROM d1_migrations ORDER BY id")).map(
    ({ name }) => name,
  );
  const unknown = applied.filter((name) => !files.includes(name));
  if (unknown.length > 0)
    throw new Problem(
      "unavailable",
      `These records were written by a newer Seepwise (${unknown.join(", ")}). Start that one, or a newer one.`,
    );
  for (const name of files) if (!applied.includes(name)) applyOnce(db, name, readFileSync(join(folder, name), "utf8"));
}

/** The file that holds the records, in the data folder. */
export const DATABASE_FILE = "seepwise.sqlite";

/** Opens the database at `file`, made new if need be, with every migration applied. Throws `Problem` when it cannot. */
export async function openDatabase(file: string): Promise<NodeSql> {
  const sql = new NodeSql(file);
  try {
    await migrate(sql);
    sql.checkpoint();
    return sql;
  } catch (error) {
    sql.close();
    throw error;
  }
}

/** Another process may be starting on the same file: whoever writes the name first applies it. */
function applyOnce(db: NodeSql, name: string, sql: string): void {
  try {
    db.script(`INSERT INTO d1_migrations (name) VALUES ('${name}');\n${sql}`);
  } catch (error) {
    if (!(error instanceof ConstraintFailed && error.what === "d1_migrations.name")) throw error;
  }
}

/** `data/migrations` of the package, from the sources as from the built program. */
function migrationsFolder(): string {
  let folder = import.meta.dirname;
  while (!existsSync(join(folder, "package.json"))) {
    const parent = dirname(folder);
    if (parent === folder) throw new Error(`No data/migrations above ${import.meta.dirname}`);
    folder = parent;
  }
  return join(folder, "data", "migrations");
}
