/**
 * `npm run restore -- FILE [--replace]`: puts a backup where the server, which must be stopped, looks for the records.
 */
import { runFileCommand } from "./command-line.ts";
import { restoreDatabase } from "./store/node-backup.ts";

await runFileCommand("restore", async ({ named, database, replace }) => {
  const { vehicles, kept } = await restoreDatabase(named, database, { replace, now: new Date() });
  const before = kept === null ? "" : `\nWhat was there before is kept at ${kept}`;
  return `Restored ${vehicles} vehicles to ${database}${before}`;
});
