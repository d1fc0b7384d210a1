/**
 * Builds what runs on Node and in the browser:
 *
 *   dist/node.js       the server, its chunks beside it
 *   dist/public/       what is served as it is: `assets/` (a hash in every name) and `_headers`
 *   dist/assets.json   the plain name of each client file → its address
 *   dist/migrations.json  the numbered changes of the schema, for a runtime without files
 *
 * `node src/build.ts` builds once; with `--watch` it builds on every change and restarts the server.
 * Every script, style sheet and picture directly in `views/client/` becomes one file of its own for the browser.
 */
import { type ChildProcess, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { once } from "node:events";
import { copyFile, mkdir, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { basename, join, relative } from "node:path";
import { promisify } from "node:util";
import { brotliCompress, constants } from "node:zlib";
import { type BuildOptions, type BuildResult, build, context, type Plugin } from "esbuild";
import { type ObjectMigration, objectMigration } from "./store/object-migrations.ts";
import { isMigration } from "./store/schema-versions.ts";
import { contentSecurityPolicyText, HASHED_FILE_CACHE } from "./web/edge/security.ts";

const root = join(import.meta.dirname, "..");
const client_source = join(root, "views/client");
const dist = join(root, "dist");
const assets = join(dist, "public/assets");
/** A page that is open since the last build may still ask for the files of that one. */
const STALE_AFTER_MS = 24 * 3600 * 1000;

const serverOptions = {
  entryPoints: [join(root, "src/node.ts"), join(root, "src/model-worker.ts")],
  // One finds the file that its threads begin with beside its own, the other is not made of modules.
  external: ["tinypool", "prom-client"],
  bundle: true,
  splitting: true,
  platform: "node",
  format: "esm",
  target: "node24",
  sourcemap: true,
  outdir: dist,
  chunkNames: "server-[hash]",
  tsconfig: join(root, "tsconfig.json"),
  metafile: true,
} satisfies BuildOptions;

async function clientOptions() {
  const names = await readdir(client_source);
  return {
    entryPoints: names.filter((name) => /\.(ts|css|svg|woff2)$/.test(name)).map((name) => join(client_source, name)),
    bundle: true,
    minify: true,
    format: "esm",
    target: "es2022",
    outdir: assets,
    entryNames: "[name]-[hash]",
    assetNames: "[name]-[hash]",
    loader: { ".svg": "copy", ".woff2": "copy" },
    tsconfig: join(client_source, "tsconfig.json"),
    metafile: true,
  } satisfies BuildOptions;
}

async function buildOnce(): Promise<void> {
  const [client, server] = await Promise.all([build(await clientOptions()), build(serverOptions)]);
  await writePublic(client);
  await compressAssets();
  await removeStale(dist, outputNames(server), /^server-.*\.js(\.map)?$/);
}

/** Two builds watch; the server starts over after each, once both have gone through. */
async function watch(): Promise<void> {
  const built = new Set<"client" | "server">();
  const restart = serverRestarter();
  const after = (
    part: "client" | "server",
    then?: (result: BuildResult<{ metafile: true }>) => Promise<void>,
  ): Plugin => ({
    name: `after-${part}`,
    setup: ({ onEnd }) =>
      onEnd(async (result) => {
        if (result.errors.length > 0) return;
        await then?.(result as BuildResult<{ metafile: true }>);
        built.add(part);
        if (built.size === 2) await restart();
      }),
  });
  const client = await context({
    ...(await clientOptions()),
    plugins: [after("client", writePublic)],
    logLevel: "info",
  });
  const server = await context({ ...serverOptions, plugins: [after("server")], logLevel: "info" });
  await Promise.all([client.watch(), server.watch()]);
}

function serverRestarter(): () => Promise<void> {
  let server: ChildProcess | undefined;
  let turn = Promise.resolve();
  process.on("exit", () => server?.kill());
  for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, () => process.exit(0));
  const restart = async () => {
    if (server?.exitCode === null && server.kill()) await once(server, "exit");
    server = spawn(process.execPath, ["--enable-source-maps", join(dist, "node.js")], { stdio: "inherit" });
  };
  return () => {
    turn = turn.then(restart);
    return turn;
  };
}

/** Adds to the bundles what is not bundled, and writes the manifest. */
async function writePublic({ metafile }: BuildResult<{ metafile: true }>): Promise<void> {
  const manifest: Record<string, string> = {};
  for (const [path, output] of Object.entries(metafile.outputs)) {
    // A face that the style sheet asks for is no entry, and pages name it to have it early.
    if (path.endsWith(".woff2")) manifest["slab.woff2"] = `/assets/${basename(path)}`;
    if (output.entryPoint === undefined) continue;
    const name = basename(output.entryPoint).replace(/\.ts$/, ".js");
    manifest[name] = `/assets/${basename(path)}`;
  }
  // The face's license goes where the face goes.
  await copyFile(join(root, "node_modules/@fontsource/bitter/LICENSE"), join(dist, "public/assets/slab-LICENSE.txt"));
  manifest["htmx.js"] = `/assets/${await copyHtmx()}`;
  await writeFile(
    join(dist, "public/_headers"),
    `/*\n  Content-Security-Policy: ${contentSecurityPolicyText()}\n  X-Content-Type-Options: nosniff\n  Cross-Origin-Resource-Policy: same-origin\n/assets/*\n  Cache-Control: ${HASHED_FILE_CACHE}\n`,
  );
  await writeFile(join(dist, "public/.assetsignore"), "*.br\n");
  await replaceFile(join(dist, "assets.json"), `${JSON.stringify(manifest, null, 2)}\n`);
  await replaceFile(join(dist, "migrations.json"), JSON.stringify(await migrations()));
  await removeStale(
    assets,
    Object.values(manifest).map((url) => basename(url)),
    /./,
  );
}

async function migrations(): Promise<ObjectMigration[]> {
  const folder = join(root, "data/migrations");
  const names = (await readdir(folder)).filter(isMigration).sort();
  return Promise.all(
    names.map(async (name) => objectMigration({ name, sql: await readFile(join(folder, name), "utf8") })),
  );
}

/** Copied, not bundled: printed again by a bundler it grows by a half. */
async function copyHtmx(): Promise<string> {
  const script = await readFile(join(root, "node_modules/htmx.org/dist/htmx.min.js"));
  const name = `htmx-${createHash("sha256").update(script).digest("base64url").slice(0, 8)}.js`;
  await mkdir(assets, { recursive: true });
  await writeFile(join(assets, name), script);
  return name;
}

/** Whatever has a hash in its name is compressed once and for all. */
async function compressAssets(): Promise<void> {
  const names = await readdir(assets);
  const new_names = names.filter((name) => /\.(js|css|svg)$/.test(name) && !names.includes(`${name}.br`));
  await Promise.all(new_names.map(compressAsset));
}

async function compressAsset(name: string): Promise<void> {
  const path = join(assets, name);
  const content = await readFile(path);
  const params = { [constants.BROTLI_PARAM_QUALITY]: 9, [constants.BROTLI_PARAM_SIZE_HINT]: content.length };
  await replaceFile(`${path}.br`, await promisify(brotliCompress)(content, { params }));
}

/** Writes beside and renames, so that a server which starts meanwhile never reads half a file. */
async function replaceFile(path: string, content: string | Uint8Array): Promise<void> {
  const beside = `${path}.${process.pid}`;
  await writeFile(beside, content);
  await rename(beside, path);
}

function outputNames({ metafile }: BuildResult<{ metafile: true }>): string[] {
  return Object.keys(metafile.outputs).map((path) => relative(dist, path));
}

async function removeStale(folder: string, current: readonly string[], pattern: RegExp): Promise<void> {
  for (const name of await readdir(folder)) {
    if (!pattern.test(name) || current.includes(name.replace(/\.br$/, ""))) continue;
    const path = join(folder, name);
    const { mtimeMs } = await stat(path);
    if (Date.now() - mtimeMs > STALE_AFTER_MS) await rm(path, { force: true });
  }
}

await (process.argv.includes("--watch") ? watch() : buildOnce());
