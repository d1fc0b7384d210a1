import { defineConfig } from "vitest/config";

/**
 * Three kinds of tests: `unit` needs nothing built; `runtimes` asks the application, or its store, on Node and on the
 * Workers runtime alike; `browser` opens the built application in Chromium, each file with its own server.
 */
export default defineConfig({
  root: `${import.meta.dirname}/..`,
  test: {
    // One more than the cores of a small machine: a browser, a server or a disk is often waited for.
    maxWorkers: 3,
    testTimeout: 30_000,
    hookTimeout: 60_000,
    // A page that follows a press may take its time on a busy machine.
    expect: { poll: { timeout: 15_000 } },
    // The Workers runtime starts quietly and asks nobody outside.
    env: {
      CLOUDFLARE_CF_FETCH_ENABLED: "false",
      WRANGLER_HIDE_BANNER: "true",
      WRANGLER_SEND_ERROR_REPORTS: "false",
      WRANGLER_SEND_METRICS: "false",
      WRANGLER_WRITE_LOGS: "false",
      // Programs that the tests start keep what they compiled for the next one.
      NODE_COMPILE_CACHE: `${import.meta.dirname}/../node_modules/.cache/node`,
    },
    projects: [
      {
        extends: true,
        test: {
          name: "unit",
          isolate: false,
          include: ["test/**/*.test.{ts,tsx}"],
          exclude: ["test/{http,store,browser}/**"],
        },
      },
      {
        extends: true,
        test: {
          name: "runtimes",
          isolate: false,
          include: ["test/{http,store}/**/*.test.{ts,tsx}"],
          globalSetup: ["test/support/build.setup.ts"],
        },
      },
      {
        extends: true,
        test: {
          name: "browser",
          isolate: false,
          include: ["test/browser/**/*.test.{ts,tsx}"],
          globalSetup: ["test/support/build.setup.ts", "test/support/chromium.setup.ts"],
          testTimeout: 60_000,
        },
      },
    ],
  },
});
