import { afterEach, expect, test, vi } from "vitest";
import { pooledRandom } from "../src/pooled-random.ts";

afterEach(() => vi.restoreAllMocks());

test("gives each byte that the system gave once, in order, whatever the sizes", () => {
  const drawn: number[] = [];
  vi.spyOn(crypto, "getRandomValues").mockImplementation((into) => {
    const bytes = into as Uint8Array;
    for (let i = 0; i < bytes.length; i++) bytes[i] = (drawn.length * 31 + i * 7 + 1) % 251;
    drawn.push(...bytes);
    return into;
  });
  const random = pooledRandom();
  const first = [...random(20), ...random(32), ...random(1)];
  expect(first).toEqual(drawn.slice(0, 53));
  // More than is left: the rest is never given, and the next comes from a new draw.
  const before = drawn.length;
  const sizes = Array.from({ length: before }, () => random(20).length);
  expect(new Set(sizes)).toEqual(new Set([20]));
  expect(drawn.length).toBeGreaterThan(before);
});

test("no key comes twice, and what does not fit into the pool is drawn by itself", () => {
  const random = pooledRandom();
  const keys = Array.from({ length: 2000 }, () => random(20).join());
  expect(new Set(keys).size).toBe(2000);
  expect(new Set(random(20_000)).size).toBe(256);
});
