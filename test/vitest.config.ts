import { defineConfig } from "vitest/config";

export default defineConfig({
  root: `${import.meta.dirname}/..`,
  esbuild: { jsx: "automatic", jsxImportSource: "hono/jsx" },
  test: {
    include: ["test/**/*.test.{ts,tsx}"],
    testTimeout: 30_000,
  },
});
