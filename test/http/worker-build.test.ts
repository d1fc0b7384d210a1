import { execFile } from "node:child_process";
import { readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";
import { gzipSync } from "node:zlib";
import { expect, test } from "vitest";
import { DIST, ROOT } from "../support/paths.ts";

const OUT = join(DIST, "worker-test");

/**
 * Workers on the free plan may be 3 MB when compressed. Source: developers.cloudflare.com/workers/platform/limits, from
 * memory.
 */
const LARGEST_BYTES = 3_000_000;

test("wrangler deploy --dry-run bundles the Worker without Node's modules, within the platform's size", async () => {
  const { stdout } = await promisify(execFile)(
    process.execPath,
    ["node_modules/wrangler/bin/wrangler.js", "deploy", "--dry-run", "--minify", "--outdir", OUT],
    { cwd: ROOT },
  );
  expect(stdout).toMatch("--dry-run: exiting now");
  const bundle = await readFile(join(OUT, "worker.js"));
  expect(gzipSync(bundle).length).toBeLessThan(LARGEST_BYTES);
  expect(bundle.toString()).not.toMatch(/(?:from|import|require\()\s*["']node:/);
});

test("the icons of the installed page have the sizes that it says", async () => {
  const built = (address: string) => readFile(join(DIST, "public", address));
  const addresses = JSON.parse(await readFile(join(DIST, "assets.json"), "utf8")) as Record<string, string>;
  const app = JSON.parse((await built(addresses["app.webmanifest"]!)).toString());
  const pictures = (app.icons as { src: string; sizes: string; type: string }[]).filter(
    ({ type }) => type === "image/png",
  );
  expect(pictures.map(({ sizes }) => sizes)).toEqual(["192x192", "512x512"]);
  for (const { src, sizes } of pictures) {
    const picture = await built(src);
    // Width and height of a PNG stand at bytes 16 and 20 (PNG, third edition, section 11.2.1).
    expect(`${picture.readUInt32BE(16)}x${picture.readUInt32BE(20)}`).toBe(sizes);
  }
});

test("the copies that were compressed for Node are no files of the edge", async () => {
  expect((await stat(join(DIST, "public/.assetsignore"))).isFile()).toBe(true);
});
