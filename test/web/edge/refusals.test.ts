import { expect, test } from "vitest";
import { createApp } from "../../../src/app.ts";
import { NO_LIMITS } from "../../../src/web/edge/rate-limit.ts";
import { testDeps } from "../../support/deps.ts";

test("a refusal that comes again and again is the same page each time, each person's own, and says when to come back", async () => {
  const app = createApp(testDeps({ limits: () => ({ ...NO_LIMITS, asked_with_key: { take: async () => false } }) }));
  const ask = async (headers: Record<string, string> = {}) => {
    const answer = await app.request("/?nameplate=23+oz&today=weak&go=1", { headers });
    expect([answer.status, answer.headers.get("Retry-After")]).toEqual([429, "10"]);
    expect(answer.headers.get("Content-Type")).toBe("text/html; charset=UTF-8");
    expect(answer.headers.get("Cache-Control")).toBe("private, no-cache");
    expect(answer.headers.get("Content-Security-Policy")).toContain("default-src 'self'");
    return answer.text();
  };
  const [first, again] = [await ask(), await ask()];
  expect(first).toContain("Too many questions came with this key at once.");
  expect(again).toBe(first);
  const shop = { Cookie: "seepwise-for=shop" };
  expect(await ask(shop)).not.toBe(first);
  expect(await ask(shop)).toBe(await ask(shop));
  expect(await ask({ "HX-Request": "true" })).not.toContain("<html");
});
