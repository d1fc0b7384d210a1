import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { objectMigration } from "../../src/store/object-migrations.ts";
import { lateTables } from "../../src/store/object-table-list.ts";
import { ROOT } from "../support/paths.ts";

const FOLDER = join(ROOT, "data/migrations");

/** The migrations as objects apply them, from their files. */
export const MIGRATIONS = readdirSync(FOLDER)
  .sort()
  .map((name) => objectMigration({ name, sql: readFileSync(join(FOLDER, name), "utf8") }));

export const LATE = lateTables(MIGRATIONS);
