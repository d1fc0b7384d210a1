import { execFile } from "node:child_process";
import { promisify } from "node:util";
import { ROOT } from "./paths.ts";

/** Builds the application once before the tests that run what was built. */
export async function setup(): Promise<void> {
  await promisify(execFile)(process.execPath, ["src/build.ts"], { cwd: ROOT });
}
