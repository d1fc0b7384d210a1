import { readFileSync } from "node:fs";
import type { RunningServer } from "../support/server.ts";

/** The kernel counts in hundredths of a second. */
const MS_PER_TICK = 10;

/**
 * Milliseconds of the processor that a process has used so far: other work on the machine does not change them much.
 * Linux only, as it is read from `/proc`.
 */
export function processorMs({ pid }: Pick<RunningServer, "pid">): number {
  const fields = readFileSync(`/proc/${pid}/stat`, "utf8").split(") ")[1]!.split(" ");
  return (Number(fields[11]) + Number(fields[12])) * MS_PER_TICK;
}
