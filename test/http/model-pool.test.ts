import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import type { AssessRequest } from "../../src/core/question/contract.ts";
import { modelPool } from "../../src/model-pool.ts";
import { MODEL_IN_PLACE, type Model } from "../../src/web/edge/model.ts";
import { testDeps } from "../support/deps.ts";
import { DIST } from "../support/paths.ts";

const WORKER = join(DIST, "model-worker.js");
const request: AssessRequest = {
  as_of: "2026-05-01",
  vehicle: { refrigerant: "R-134a", nameplate_g: 500 },
  log: [
    { date: "2024-06-15", added_g: 340, added_by: "cans", finish: "gauges" },
    { date: "2025-07-01", added_g: 340, added_by: "cans", finish: "gauges" },
  ],
};
const cases = [480, 650].map((nameplate_g) => ({
  weight: 0.5,
  request: { ...request, vehicle: { ...request.vehicle, nameplate_g } },
}));

const pools: { close(): Promise<void> }[] = [];
function pooled(...options: Parameters<typeof modelPool> extends [string, ...infer Rest] ? Rest : never) {
  const pool = modelPool(WORKER, ...options);
  pools.push(pool);
  return pool;
}
afterAll(() => Promise.all(pools.map((pool) => pool.close())));

test("the threads answer what the model answers in place", async () => {
  const pool = pooled();
  expect(await pool.assess(request)).toEqual(await MODEL_IN_PLACE.assess(request));
  const brief = { sensitivity: false };
  expect(await pool.pageAnswer(request, brief)).toEqual(await MODEL_IN_PLACE.pageAnswer(request, brief));
  expect(await pool.mixedAnswer(cases, brief)).toEqual(await MODEL_IN_PLACE.mixedAnswer(cases, brief));
});

test("the threads compute a fleet as the model does in place, to the last digit", async () => {
  const pool = pooled({ patient_threads: 2 });
  const requests = cases.map((one) => one.request);
  const logs = await pool.leakLikelihoods(requests);
  expect(logs).toEqual(await MODEL_IN_PLACE.leakLikelihoods(requests));
  const group = { kinds: [null, null], ln_likelihoods: logs.map((ln) => Float64Array.from(ln!)) };
  const [fit, ...others] = await pool.groupFits([group]);
  expect([fit, ...others]).toEqual(await MODEL_IN_PLACE.groupFits([group]));
  const asked = requests.map((one) => ({ request: one, used: fit!.used }));
  expect(await pool.fleetAnswers(asked)).toEqual(await MODEL_IN_PLACE.fleetAnswers(asked));
});

test("what another asks meanwhile is answered first", async () => {
  const app = createApp(testDeps({ model: pooled() }));
  const order: string[] = [];
  const asked = Promise.all(
    Array.from({ length: 5 }, () =>
      app.request("/api/assess", { method: "POST", body: JSON.stringify(request), headers: JSON_BODY }),
    ),
  ).then((answers) => {
    order.push("questions");
    return answers;
  });
  const other = Promise.resolve(app.request("/healthz")).then(() => order.push("the other"));
  const [answers] = await Promise.all([asked, other]);
  expect(answers.map(({ status }) => status)).toEqual([200, 200, 200, 200, 200]);
  expect(order).toEqual(["the other", "questions"]);
});

test("when too many wait, the next is told to come back, and the others are answered", async () => {
  const app = createApp(testDeps({ model: pooled({ most_waiting: 3 }) }));
  const answers = await Promise.all(
    Array.from({ length: 20 }, () =>
      app.request("/api/assess", { method: "POST", body: JSON.stringify(request), headers: JSON_BODY }),
    ),
  );
  const refused = answers.filter(({ status }) => status === 503);
  expect(refused.length).toBeGreaterThan(0);
  expect(answers.length - refused.length).toBeGreaterThanOrEqual(3);
  expect(answers.every(({ status }) => status === 200 || status === 503)).toBe(true);
  for (const answer of refused) {
    expect(answer.headers.get("Retry-After")).toBe("5");
    expect(await answer.json()).toMatchObject({ error: { message: expect.stringMatching(/^Many people are asking/) } });
  }
});

test("a computation has an end", async () => {
  const hasty: Model = pooled({ longest_ms: 1 });
  const long = { ...request, plan: { keep_years: 20 } };
  await expect(hasty.assess(long)).rejects.toMatchObject({ name: "Problem", code: "unavailable" });
});

const JSON_BODY = { "Content-Type": "application/json" };
