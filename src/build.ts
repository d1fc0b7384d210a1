/**
 * Builds what runs on Node and in the browser:
 *
 *   dist/node.js       the server, its chunks beside it
 *   dist/public/       what is served as it is: `assets/` (a hash in every name) and `_headers`
 *   dist/assets.json   the plain name of each client file → its address
 *   dist/migrations.json  the numbered changes of the schema, for a runtime without files
 *   dist/late-tables.json  the tables that an object makes when it needs them
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
import { CANVAS } from "../views/canvas.ts";
import { SERVER_FLAGS } from "./server-flags.ts";
import { type ObjectMigration, objectMigration } from "./store/object-migrations.ts";
import { lateTables } from "./store/object-table-list.ts";
import { isMigration } from "./store/schema-versions.ts";
import { HASHED_FILE_CACHE, securityHeaderTexts, WORKER_SCOPE } from "./web/edge/security.ts";

const root = join(import.meta.dirname, "..");
const client_source = join(root, "views/client");
const dist = join(root, "dist");
const assets = join(dist, "public/assets");
/** A page that is open since the last build may still ask for the files of that one. */
const STALE_AFTER_MS = 24 * 3600 * 1000;

const serverOptions = {
  entryPoints: [join(root, "src/node.ts"), join(root, "src/model-worker.ts"), join(root, "src/file-worker.ts")],
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
    entryPoints: names
      .filter((name) => /\.(ts|css|svg|png|woff2)$/.test(name))
      .map((name) => join(client_source, name)),
    bundle: true,
    minify: true,
    format: "esm",
    target: "es2022",
    outdir: assets,
    entryNames: "[name]-[hash]",
    assetNames: "[name]-[hash]",
    loader: { ".svg": "copy", ".png": "copy", ".woff2": "copy" },
    tsconfig: join(client_source, "tsconfig.json"),
    metafile: true,
  } satisfies BuildOptions;
}

/**
 * What answers on a device without a connection. It holds the manifest of all other files, so that its own name, which
 * has its content's hash, changes with any of them: a version is whole or not there. A fleet's charts are on no page
 * that it makes.
 */
function deviceOptions({ "fleet-charts.js": _, ...manifest }: Readonly<Record<string, string>>) {
  return {
    entryPoints: [join(root, "src/device/service-worker.ts")],
    bundle: true,
    minify: true,
    format: "iife",
    target: "es2022",
    define: { ASSETS: JSON.stringify(manifest) },
    outdir: assets,
    entryNames: "device-[hash]",
    tsconfig: join(root, "tsconfig.json"),
    metafile: true,
  } satisfies BuildOptions;
}

async function buildOnce(): Promise<void> {
  const [, server] = await Promise.all([build(await clientOptions()).then(writePublic), build(serverOptions)]);
  await compressAssets();
  await removeStale(dist, outputNames(server), /^server-.*\.js(\.map)?$/);
}

/** Two builds watch; what is made of both, and the server, follow each, once both have gone through. */
async function watch(): Promise<void> {
  let latest_client: BuildResult<{ metafile: true }> | undefined;
  const built = new Set<"client" | "server">();
  const restart = serverRestarter();
  const after = (part: "client" | "server"): Plugin => ({
    name: `after-${part}`,
    setup: ({ onEnd }) =>
      onEnd(async (result) => {
        if (result.errors.length > 0) return;
        if (part === "client") latest_client = result as BuildResult<{ metafile: true }>;
        built.add(part);
        if (built.size < 2 || latest_client === undefined) return;
        await writePublic(latest_client);
        await restart();
      }),
  });
  const client = await context({
    ...(await clientOptions()),
    plugins: [after("client")],
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
    server = spawn(process.execPath, [...SERVER_FLAGS, join(dist, "node.js")], { stdio: "inherit" });
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
  manifest["app.webmanifest"] =
    `/assets/${await writeHashed("app", ".webmanifest", JSON.stringify(appManifest(manifest)))}`;
  manifest["device.js"] = await buildDevice(manifest);
  const workerHeaders = Object.entries(WORKER_SCOPE).map(([name, value]) => `/assets/device-*\n  ${name}: ${value}\n`);
  const security = Object.entries(await securityHeaderTexts({ https: true })).map((each) => `  ${each.join(": ")}\n`);
  await writeFile(
    join(dist, "public/_headers"),
    `/*\n${security.join("")}/assets/*\n  Cache-Control: ${HASHED_FILE_CACHE}\n${workerHeaders}`,
  );
  await writeFile(join(dist, "public/.assetsignore"), "*.br\n");
  await replaceFile(join(dist, "assets.json"), `${JSON.stringify(manifest, null, 2)}\n`);
  const changes = await migrations();
  await replaceFile(join(dist, "migrations.json"), JSON.stringify(changes));
  await replaceFile(join(dist, "late-tables.json"), JSON.stringify(lateTables(changes)));
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
  return writeHashed("htmx", ".js", await readFile(join(root, "node_modules/htmx.org/dist/htmx.min.js")));
}

async function writeHashed(name: string, ending: string, content: string | Uint8Array): Promise<string> {
  const hashed = `${name}-${createHash("sha256").update(content).digest("base64url").slice(0, 8)}${ending}`;
  await mkdir(assets, { recursive: true });
  await writeFile(join(assets, hashed), content);
  return hashed;
}

/** What a browser that installs the page shows of it (W3C, Web Application Manifest). */
function appManifest(files: Readonly<Record<string, string>>) {
  return {
    id: "/",
    name: "Seepwise",
    short_name: "Seepwise",
    description: "Repair, dye test or top off: for a vehicle air conditioner that slowly loses refrigerant.",
    lang: "en",
    start_url: "/",
    scope: "/",
    display: "standalone",
    background_color: CANVAS.light,
    theme_color: CANVAS.light,
    // The mark stands within the middle four fifths, which every mask leaves.
    icons: [
      { src: files["icon.svg"], sizes: "any", type: "image/svg+xml", purpose: "any" },
      ...[192, 512].map((px) => ({
        src: files[`icon-${px}.png`],
        sizes: `${px}x${px}`,
        type: "image/png",
        purpose: "any maskable",
      })),
    ],
  };
}

async function buildDevice(manifest: Readonly<Record<string, string>>): Promise<string> {
  const { metafile } = await build(deviceOptions(manifest));
  return `/assets/${basename(Object.keys(metafile.outputs)[0]!)}`;
}

/** Whatever has a hash in its name is compressed once and for all. */
async function compressAssets(): Promise<void> {
  const names = await readdir(assets);
  const new_names = names.filter((name) => /\.(js|css|svg|webmanifest)$/.test(name) && !names.includes(`${name}.br`));
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
