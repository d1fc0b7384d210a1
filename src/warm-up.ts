import type { AssessRequest } from "./core/question/contract.ts";

const TIMES = 6;

/** Invented questions that exercise different paths through the model. */
const QUESTIONS: readonly AssessRequest[] = [
  {
    as_of: "2026-05-01",
    vehicle: { refrigerant: "R-134a", nameplate_g: 650 },
    log: [
      { date: "2023-05-20", finish: "weighed" },
      { date: "2024-07-03", cooling: "weak", added_g: 227, finish: "low-side" },
      { date: "2025-06-15", cooling: "weak", added_g: 340 },
    ],
    plan: { season_worth: 150 },
  },
  {
    as_of: "2026-05-01",
    vehicle: {
      refrigerant: "R-1234yf",
      nameplate_g: 480,
      monthly_mean_c: [2, 4, 9, 14, 19, 24, 27, 26, 22, 15, 9, 4],
    },
    log: [
      { date: "2022-06-20", cooling: "short-cycling", recovered_g: 210, finish: "weighed", repair: "hose" },
      { date: "2025-08-05", cooling: "ok" },
      { date: "2026-04-28", cooling: "weak" },
    ],
    findings: [{ date: "2026-04-28", test: "visual", location: "anywhere", result: "clean" }],
    plan: { service: "shop", carbon_price_per_t: 190 },
  },
];

/**
 * Asks the application a few questions at `origin`, one after the other, so that the first visitor does not wait for
 * cold code. A visitor who comes in between waits for one of them at most. Nothing is stored. Never throws.
 */
export async function warmUp(
  answer: (request: Request) => Response | Promise<Response>,
  origin: string,
): Promise<void> {
  // The application answers only to its own name, which no browser is here to send.
  const headers = { Host: new URL(origin).host, "Content-Type": "application/json" };
  try {
    for (let time = 0; time < TIMES; time++) {
      await (await answer(new Request(`${origin}/`, { headers }))).text();
      for (const question of QUESTIONS) {
        const body = JSON.stringify(question);
        await (await answer(new Request(`${origin}/api/assess`, { method: "POST", headers, body }))).text();
      }
    }
  } catch {
    // The next visitor gets the error.
  }
}
