import { readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const NOTE = "last-backup";

/** Notes in the data folder that a copy of its records was taken: a server that runs beside it tells the owner. */
export function noteBackup(data_dir: string, at: Date): void {
  writeFileSync(join(data_dir, NOTE), at.toISOString());
}

/** When a copy of the records was last taken, an instant; null for never, and where the note cannot be read. */
export function lastBackup(data_dir: string): string | null {
  const file = join(data_dir, NOTE);
  if (statSync(file, { throwIfNoEntry: false }) === undefined) return null;
  const at = new Date(readFileSync(file, "utf8"));
  return Number.isNaN(at.getTime()) ? null : at.toISOString();
}
