/**
 * Runs benches, each in a process of its own with the flags of a server, one after the other:
 *
 *     npm run bench                    all of them
 *     npm run bench -- assess startup  those named
 *
 * A bench is a file `test/bench/NAME.bench.ts` that prints its measurements when it is run by itself and exports a
 * function that takes a size, so that a test can run it tiny.
 */
import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { SERVER_FLAGS } from "../../src/server-flags.ts";

const SUFFIX = ".bench.ts";
const names = readdirSync(import.meta.dirname)
  .filter((file) => file.endsWith(SUFFIX))
  .map((file) => file.slice(0, -SUFFIX.length))
  .sort();

const asked = process.argv.slice(2);
const unknown = asked.filter((name) => !names.includes(name));
if (unknown.length > 0) {
  console.error(`No bench is named ${unknown.join(", ")}. There are: ${names.join(", ")}.`);
  process.exit(1);
}

let failed = false;
for (const name of asked.length > 0 ? asked : names) {
  console.log(`\n${name}`);
  const { status } = spawnSync(process.execPath, [...SERVER_FLAGS, join(import.meta.dirname, name + SUFFIX)], {
    stdio: "inherit",
  });
  if (status !== 0) failed = true;
}
process.exit(failed ? 1 : 0);
