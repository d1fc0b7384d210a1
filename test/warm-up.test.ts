import { expect, test } from "vitest";
import { createApp } from "../src/app.ts";
import { warmUp } from "../src/warm-up.ts";
import { testDeps } from "./support/deps.ts";

test("a warm-up asks the page and the model, one question at a time, and is answered", async () => {
  const app = createApp(testDeps());
  const asked = new Set<string>();
  let at_once = 0;
  await warmUp(async (request) => {
    expect(++at_once).toBe(1);
    asked.add(`${request.method} ${new URL(request.url).pathname}`);
    const response = await app.fetch(request);
    expect(response.status).toBe(200);
    at_once--;
    return response;
  }, "http://localhost");
  expect([...asked]).toEqual(["GET /", "POST /api/assess"]);
});

test("an application that fails ends it without a word", async () => {
  let times = 0;
  const fails = async () => {
    times++;
    throw new Error("not now");
  };
  await expect(warmUp(fails, "http://localhost")).resolves.toBeUndefined();
  expect(times).toBe(1);
});
