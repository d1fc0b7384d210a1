import { spawn } from "node:child_process";
import { once } from "node:events";
import { join } from "node:path";

export interface RecordProcess {
  url: string;
  /** Ends it at once, without a word, and waits until it is gone. */
  kill(): Promise<void>;
}

/** Starts `record-server.ts` on a database, as another account when `uid` is given. */
export async function startRecordServer(file: string, uid?: number): Promise<RecordProcess> {
  const script = join(import.meta.dirname, "record-server.ts");
  const account = uid === undefined ? {} : { uid, gid: uid };
  const child = spawn(process.execPath, [script, file], { stdio: ["ignore", "pipe", "inherit"], ...account });
  const gone = once(child, "exit");
  const kill = async () => {
    child.kill("SIGKILL");
    await gone;
  };
  const [first] = await Promise.race([once(child.stdout, "data"), gone]);
  const url = /ready at (\S+)/.exec(String(first))?.[1];
  if (url === undefined) throw new Error("The record server did not start");
  return { url, kill };
}
