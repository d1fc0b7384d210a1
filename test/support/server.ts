import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { SERVER_FLAGS } from "../../src/server-flags.ts";
import { DIST } from "./paths.ts";

/** The built application as its own process. */
export interface RunningServer {
  url: string;
  /** Id of its process. */
  pid: number;
  /** What it has printed so far. */
  output(): string;
  /** Asks it to stop and gives its exit code. */
  stop(signal?: NodeJS.Signals): Promise<number | null>;
}

const START_MS = 10_000;

/**
 * Starts `dist/node.js` on a free port with an empty data folder, which goes when it stops; `env` changes its
 * environment. Throws with what it printed when it does not come up.
 */
export async function startServer(env: Record<string, string> = {}): Promise<RunningServer> {
  const data_dir = await mkdtemp(join(tmpdir(), "seepwise-"));
  const child = spawn(process.execPath, [...SERVER_FLAGS, join(DIST, "node.js")], {
    env: { ...process.env, PORT: "0", HOST: "127.0.0.1", DATA_DIR: data_dir, WARM_UP: "no", ...env },
  });
  let output = "";
  const exited = once(child, "exit");
  const stop = async (signal: NodeJS.Signals = "SIGTERM") => {
    if (child.exitCode === null && child.signalCode === null) child.kill(signal);
    const [code] = await exited;
    await rm(data_dir, { recursive: true, force: true });
    return code as number | null;
  };
  const url = await new Promise<string | undefined>((resolve) => {
    const read = (chunk: Buffer) => {
      output += chunk.toString();
      const ready = /ready at (http:\S+)/.exec(output);
      if (ready) resolve(ready[1]);
    };
    child.stdout.on("data", read);
    child.stderr.on("data", read);
    child.on("exit", () => resolve(undefined));
    setTimeout(() => resolve(undefined), START_MS).unref();
  });
  if (url === undefined) {
    await stop("SIGKILL");
    throw new Error(`The server did not start:\n${output}`);
  }
  return { url, pid: child.pid ?? 0, output: () => output, stop };
}
