import { describe, expect, test } from "vitest";
import { boundLimit, limitedAs, tokenBuckets } from "../../../src/web/edge/rate-limit.ts";

describe("tokenBuckets", () => {
  function buckets(options: { burst?: number; refill_ms?: number; remembered?: number } = {}) {
    let ms = 0;
    const limit = tokenBuckets({ now: () => new Date(ms), burst: 3, refill_ms: 1000, ...options });
    const wrong = async (from: string, times: number) => {
      const counted: boolean[] = [];
      for (let i = 0; i < times; i += 1) counted.push(await limit.take(from));
      return counted;
    };
    return { wrong, wait: (by_ms: number) => (ms += by_ms) };
  }

  test("lets what is dear be owed, and counts that off first", async () => {
    let ms = 0;
    const limit = tokenBuckets({ now: () => new Date(ms), burst: 3, refill_ms: 1000 });
    expect([await limit.take("a", 10), await limit.take("a")]).toEqual([true, false]);
    ms = 7000;
    expect(await limit.take("a")).toBe(false);
    ms = 8000;
    expect([await limit.take("a"), await limit.take("a")]).toEqual([true, false]);
  });

  test("takes so many wrong keys at once, and no more", async () => {
    const { wrong } = buckets();
    expect(await wrong("a", 5)).toEqual([true, true, true, false, false]);
    expect(await wrong("b", 1)).toEqual([true]);
  });

  test("allows one more after each wait, up to as many as at first", async () => {
    const { wrong, wait } = buckets();
    expect(await wrong("a", 3)).toEqual([true, true, true]);
    wait(1000);
    expect(await wrong("a", 2)).toEqual([true, false]);
    wait(1_000_000);
    expect(await wrong("a", 4)).toEqual([true, true, true, false]);
  });

  test("forgets who was quiet for longest when there are too many", async () => {
    const { wrong } = buckets({ remembered: 2 });
    for (const from of ["a", "b", "c"]) await wrong(from, 3);
    expect([await wrong("c", 1), await wrong("b", 1), await wrong("a", 1)]).toEqual([[false], [false], [true]]);
  });
});

test("boundLimit asks the runtime, where it has something to ask", async () => {
  const asked: string[] = [];
  const limit = boundLimit({
    limit: async ({ key }) => {
      asked.push(key);
      return { success: asked.length < 2 };
    },
  });
  expect([await limit.take("a"), await limit.take("a"), asked]).toEqual([true, false, ["a", "a"]]);
  expect(await boundLimit(undefined).take("a")).toBe(true);
});

// RFC 4291, 2.2 (text of addresses), 2.5.5.2 (IPv4 mapped); a customer commonly has a /64 (RFC 6177, from memory).
test.each([
  ["192.0.2.1", "192.0.2.1"],
  ["::ffff:192.0.2.1", "192.0.2.1"],
  ["2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"],
  ["2001:DB8:1:2::9", "2001:db8:1:2::/64"],
  ["2001:0db8::1", "2001:db8:0:0::/64"],
  ["fe80::1%eth0", "fe80:0:0:0::/64"],
  ["::1", "0:0:0:0::/64"],
  [null, "unknown"],
])("limitedAs(%s) is %s", (address, from) => {
  expect(limitedAs(address)).toBe(from);
});
