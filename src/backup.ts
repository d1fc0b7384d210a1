/** `npm run backup -- FILE [--replace]`: a copy of the records as they are now, also while the server runs. */
import { dirname } from "node:path";
import { runFileCommand } from "./command-line.ts";
import { noteBackup } from "./operations/last-backup.ts";
import { backupDatabase } from "./store/node-backup.ts";

await runFileCommand("backup", async ({ named, database, replace }) => {
  const { vehicles } = await backupDatabase(database, named, { replace });
  noteBackup(dirname(database), new Date());
  return `Backed up ${vehicles} vehicles to ${named}`;
});
