import { defineConfig } from "vitest/config";

/**
 * Three kinds of tests: `unit` needs nothing built; `runtimes` asks the application, or its store, on Node and on the
 * Workers runtime alike; `browser` opens the built application in Chromium, one file at a time.
 */
export default defineConfig({
  root: `${import.meta.dirname}/..`,
  test: {
    testTimeout: 30_000,
    hookTimeout: 60_000,
    projects: [
      {
        extends: true,
        test: {
          name: "unit",
          include: ["test/**/*.test.{ts,tsx}"],
          exclude: ["test/{http,store,browser}/**"],
        },
      },
      {
        extends: true,
        test: {
          name: "runtimes",
          include: ["test/{http,store}/**/*.test.{ts,tsx}"],
          globalSetup: ["test/support/build.setup.ts"],
        },
      },
      {
        extends: true,
        test: {
          name: "browser",
          include: ["test/browser/**/*.test.{ts,tsx}"],
          globalSetup: ["test/support/build.setup.ts", "test/support/chromium.setup.ts"],
          fileParallelism: false,
          testTimeout: 60_000,
        },
      },
    ],
  },
});
