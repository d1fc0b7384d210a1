/**
 * Workspaces of one car, each in an object of its own, in the real runtime on this machine: how long one takes to begin
 * and to open when there are many, and how much room they take.
 *
 *     npm run build && npm run bench -- objects, or: node test/bench/objects.bench.ts [workspaces]
 */
import { mkdtempSync, rmSync } from "node:fs";
import { readdir, stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { unstable_startWorker } from "wrangler";
import { ROOT } from "../support/paths.ts";
import { lineOf, type Measurement, medianOf } from "./measurement.ts";

const QUESTION = "refrigerant=R-134a&nameplate=23+oz&today=weak&keep=5&service=diy&label=Van";
const OPENED = 50;
// Nothing is asked of anyone outside this machine.
process.env.CLOUDFLARE_CF_FETCH_ENABLED = "false";
process.env.WRANGLER_SEND_METRICS = "false";

export async function objectsBench(workspaces = 1000): Promise<Measurement[]> {
  const folder = mkdtempSync(join(tmpdir(), "objects-bench-"));
  const worker = await unstable_startWorker({
    config: join(ROOT, "wrangler.toml"),
    dev: { persist: folder, server: { port: 0 }, inspector: false, logLevel: "error" },
  });
  try {
    const url = await worker.url;
    const cookies: string[] = [];
    const begun: number[] = [];
    for (let i = 0; i < workspaces; i++) {
      const start = performance.now();
      const answer = await fetch(new URL("/vehicles", url), {
        method: "POST",
        redirect: "manual",
        headers: {
          "Sec-Fetch-Site": "same-origin",
          "Content-Type": "application/x-www-form-urlencoded",
          "CF-Connecting-IP": `2001:db8:${(i >> 16).toString(16)}:${(i & 0xffff).toString(16)}::1`,
        },
        body: QUESTION,
      });
      if (answer.status !== 201) throw new Error(`Not begun: ${answer.status}`);
      await answer.text();
      begun.push(performance.now() - start);
      cookies.push((answer.headers.get("Set-Cookie") ?? "").split(";")[0]!);
    }
    const opened = async (some: readonly string[]) => {
      const times: number[] = [];
      for (const cookie of some) {
        const start = performance.now();
        const page = await fetch(new URL("/vehicles", url), { headers: { Cookie: cookie } });
        if (!(await page.text()).includes("Van")) throw new Error("Not found again");
        times.push(performance.now() - start);
      }
      return medianOf(times);
    };
    const [first, last] = [await opened(cookies.slice(0, OPENED)), await opened(cookies.slice(-OPENED))];
    const bytes = await bytesIn(folder);
    const at = `${workspaces} workspaces`;
    return [
      {
        name: "beginning one, the first fifty",
        value: medianOf(begun.slice(0, OPENED)),
        unit: "ms",
        most: null,
        digest: null,
      },
      {
        name: `beginning one, the last fifty of ${at}`,
        value: medianOf(begun.slice(-OPENED)),
        unit: "ms",
        most: null,
        digest: null,
        beside: `${(medianOf(begun.slice(-OPENED)) / medianOf(begun.slice(0, OPENED))).toFixed(2)} of the first fifty`,
      },
      { name: "opening one of the oldest", value: first, unit: "ms", most: null, digest: null },
      { name: "opening one of the newest", value: last, unit: "ms", most: null, digest: null },
      { name: "room on disk for each", value: bytes / workspaces / 1e6, unit: "MB", most: null, digest: null },
    ];
  } finally {
    await worker.dispose();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function bytesIn(folder: string): Promise<number> {
  const names = await readdir(folder, { recursive: true, withFileTypes: true });
  const sizes = names
    .filter((one) => one.isFile())
    .map(async (one) => (await stat(join(one.parentPath, one.name))).size);
  return (await Promise.all(sizes)).reduce((sum, size) => sum + size, 0);
}

if (import.meta.main) {
  const found = await objectsBench(Number(process.argv[2] ?? 1000));
  for (const measurement of found) console.log(lineOf(measurement));
  process.exit(0);
}
