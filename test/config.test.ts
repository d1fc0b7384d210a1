import { describe, expect, test } from "vitest";
import packageJson from "../package.json" with { type: "json" };
import { configFrom, isLoopback } from "../src/config.ts";
import { SERVER_FLAGS } from "../src/server-flags.ts";

describe("configFrom", () => {
  test("without settings: this machine only, port 8787", () => {
    const defaults = {
      host: "127.0.0.1",
      port: 8787,
      data_dir: "data-dir",
      behind_proxy: false,
      new_records: false,
      metrics_key: null,
      workspace_bytes: 1_000_000_000,
      empty_days: 30,
      log_requests: false,
      warm_up: true,
    };
    expect(configFrom({})).toEqual(defaults);
    expect(configFrom({ HOST: "", PORT: "", DATA_DIR: "", BEHIND_PROXY: "" })).toEqual(defaults);
  });

  test("with settings", () => {
    expect(configFrom({ HOST: "0.0.0.0", PORT: "0", DATA_DIR: "/var/lib/seepwise", BEHIND_PROXY: "yes" })).toEqual({
      host: "0.0.0.0",
      port: 0,
      data_dir: "/var/lib/seepwise",
      behind_proxy: true,
      new_records: false,
      metrics_key: null,
      workspace_bytes: 1_000_000_000,
      empty_days: 30,
      log_requests: false,
      warm_up: true,
    });
    expect(configFrom({ NEW_RECORDS: "yes" }).new_records).toBe(true);
    expect(configFrom({ WARM_UP: "no" }).warm_up).toBe(false);
  });

  test("a key for the figures is long, or there is none", () => {
    expect(configFrom({ METRICS_KEY: "0123456789abcdef" }).metrics_key).toBe("0123456789abcdef");
    expect(() => configFrom({ METRICS_KEY: "short" })).toThrow(/at least 16 characters/);
  });

  test("what a workspace may take is a number of megabytes", () => {
    expect(configFrom({ WORKSPACE_MB: "250" }).workspace_bytes).toBe(250_000_000);
    for (const WORKSPACE_MB of ["0", "-1", "1.5", "1 GB", "1e3"])
      expect(() => configFrom({ WORKSPACE_MB })).toThrow(/whole number of megabytes/);
  });

  test("how long an empty workspace stays is a number of days above 0", () => {
    expect(configFrom({ EMPTY_DAYS: "7" }).empty_days).toBe(7);
    for (const EMPTY_DAYS of ["0", "0.0", "-1", "a month", "1e3", "99999"])
      expect(() => configFrom({ EMPTY_DAYS })).toThrow(/number of days above 0/);
  });

  test.each(["65536", "-1", "8787x", "0x50", "80.0", "NaN"])("PORT=%s is refused", (PORT) => {
    expect(() => configFrom({ PORT })).toThrow(RangeError);
  });
});

test.each(["1", "true", "maybe"])("BEHIND_PROXY or NEW_RECORDS=%s is refused, as it decides who gets in", (said) => {
  expect(() => configFrom({ BEHIND_PROXY: said })).toThrow(RangeError);
  expect(() => configFrom({ NEW_RECORDS: said })).toThrow(RangeError);
  expect(() => configFrom({ LOG_REQUESTS: said })).toThrow(RangeError);
  expect(() => configFrom({ WARM_UP: said })).toThrow(RangeError);
});

test("npm start gives Node the flags that every other start gives it", () => {
  expect(packageJson.scripts.start).toMatch(new RegExp(`exec node ${SERVER_FLAGS.join(" ")} dist/node.js$`));
});

describe("isLoopback", () => {
  test.each(["127.0.0.1", "127.1.2.3", "localhost", "::1"])("%s is", (host) => {
    expect(isLoopback(host)).toBe(true);
  });

  test.each(["0.0.0.0", "::", "192.0.2.1", "127.elsewhere.example", "127.0.0.1.example", ""])("%s is not", (host) => {
    expect(isLoopback(host)).toBe(false);
  });
});
