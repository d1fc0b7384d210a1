import type { WaitingEntry } from "../../src/core/question/waiting-entry.ts";
import { deviceApp } from "../../src/device/device-app.ts";
import type { DeviceDeps } from "../../src/device/device-deps.ts";
import type { WaitingEntries } from "../../src/device/waiting.ts";
import { testDeps } from "../support/deps.ts";

/** Entries that wait, in memory. */
export function waitingInMemory(entries: readonly WaitingEntry[] = []): WaitingEntries {
  const kept = new Map(entries.map((entry) => [entry.key, entry]));
  return {
    all: async () => [...kept.values()],
    put: async (entry) => void kept.set(entry.key, entry),
    remove: async (key) => void kept.delete(key),
  };
}

/** The app on a device in the United States, on the day of the other tests. */
export function aDevice(changes: Partial<DeviceDeps> = {}) {
  const { asset, now, random } = testDeps();
  return deviceApp({ asset, now, random, time_zone: "UTC", units: "us", waiting: waitingInMemory(), ...changes });
}
