import { execFile } from "node:child_process";
import { access, constants } from "node:fs/promises";
import { delimiter, join } from "node:path";
import { promisify } from "node:util";
import type { TestProject } from "vitest/node";

/** The shell is Chromium without windows: pages open in a third of the time. */
const NAMES = [
  "chromium-headless-shell",
  "chromium",
  "chromium-browser",
  "google-chrome-stable",
  "google-chrome",
  "chrome",
];
const MAC = "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome";

/** Finds a Chromium before the browser tests, or installs Debian's where that is possible. */
export async function setup(project: TestProject): Promise<void> {
  project.provide("chromium_path", (await findChromium()) ?? (await installChromium()));
}

async function findChromium(): Promise<string | undefined> {
  const { CHROME_PATH, PATH = "" } = process.env;
  if (CHROME_PATH) {
    if (await isExecutable(CHROME_PATH)) return CHROME_PATH;
    throw new Error(`CHROME_PATH is ${CHROME_PATH}, and nothing that can be run is there.`);
  }
  const folders = new Set(["/usr/bin", ...PATH.split(delimiter)]);
  const candidates = NAMES.flatMap((name) => [...folders].map((folder) => join(folder, name)));
  for (const path of [...candidates, MAC]) if (await isExecutable(path)) return path;
  return undefined;
}

async function installChromium(): Promise<string> {
  if (process.getuid?.() === 0 && (await isExecutable("/usr/bin/apt-get"))) {
    const run = promisify(execFile);
    const install = (name: string) =>
      run("apt-get", ["install", "--yes", "--no-install-recommends", name], {
        env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
      });
    await run("apt-get", ["update"]);
    // Older releases of Debian have no package of the shell alone.
    await install("chromium-headless-shell").catch(() => install("chromium"));
    const path = await findChromium();
    if (path !== undefined) return path;
  }
  throw new Error("The browser tests need Chromium. Install it, or name one in CHROME_PATH, then run the tests again.");
}

async function isExecutable(path: string): Promise<boolean> {
  try {
    await access(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

declare module "vitest" {
  interface ProvidedContext {
    chromium_path: string;
  }
}
