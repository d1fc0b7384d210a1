/** `npm run backup -- FILE [--replace]`: a copy of the records as they are now, also while the server runs. */
import { runFileCommand } from "./command-line.ts";
import { backupDatabase } from "./store/node-backup.ts";

await runFileCommand("backup", async ({ named, database, replace }) => {
  const { vehicles } = await backupDatabase(database, named, { replace });
  return `Backed up ${vehicles} vehicles to ${named}`;
});
