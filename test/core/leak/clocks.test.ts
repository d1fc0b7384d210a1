import { expect, test } from "vitest";
import { CLIMATES } from "../../../data/climates.ts";
import { fleetAnswer } from "../../../src/core/fleet/answer.ts";
import { SharedClocks } from "../../../src/core/leak/clocks.ts";
import type { AssessRequest } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { inventedFleet } from "../../support/fleet-generator.ts";

const AS_OF = "2026-05-01";

function questions() {
  return inventedFleet({ vehicles: 24, entries: 6, seed: 31, as_of: AS_OF }).map(
    ({ refrigerant, nameplate_g, log }, i) => {
      const { monthly_mean_c } = CLIMATES[i % 3]!;
      const request: AssessRequest = { as_of: AS_OF, vehicle: { refrigerant, nameplate_g }, log };
      return questionOf({ ...request, vehicle: { ...request.vehicle, monthly_mean_c } });
    },
  );
}

test("answers with shared clocks are those with clocks of one's own", () => {
  const shared = new SharedClocks();
  for (const question of questions()) {
    const clocks = shared.of(question);
    expect(clocks).not.toBeNull();
    expect(fleetAnswer(question, undefined, clocks)).toEqual(fleetAnswer(question));
  }
});

test("questions of one refrigerant, climate and day share; others do not", () => {
  const shared = new SharedClocks();
  const [question] = questions();
  const clocks = shared.of(question!);
  expect(shared.of({ ...question!, log: [] })).toBe(clocks);
  expect(shared.of({ ...question!, as_of_day: question!.as_of_day + 1 })).not.toBe(clocks);
  expect(shared.of({ ...question!, monthly_mean_c: null })).not.toBe(clocks);
  expect(shared.of({ ...question!, refrigerant: "R-12" })).not.toBe(clocks);
});

test("a log of more than thirty years needs clocks of its own", () => {
  const [question] = questions();
  const log = [{ date: "1990-05-01", cooling: "weak" as const }, ...question!.log];
  expect(new SharedClocks().of({ ...question!, log })).toBeNull();
});
