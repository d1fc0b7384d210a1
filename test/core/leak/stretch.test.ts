import { describe, expect, it } from "vitest";
import { NODES, X_COUNT } from "../../../src/core/leak/leak-grid.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import { ALL_NODES, endsAreLight, type Stretch, stretchOf } from "../../../src/core/leak/stretch.ts";
import { type Question, questionOf } from "../../../src/core/question/question.ts";
import { variedRequests } from "../../../src/invented-requests.ts";

/** Weights that are 0 but at some nodes of the third row. */
function weights(at: Readonly<Record<number, number>>): Float64Array {
  const weight = new Float64Array(NODES);
  for (const [x, value] of Object.entries(at)) weight[2 * X_COUNT + Number(x)] = value;
  return weight;
}

describe("the nodes that count", () => {
  it("are those from the first to the last of at least 1e-22 of the largest, and five more at either end", () => {
    const row = stretchOf(weights({ 18: 1e-24, 20: 1e-10, 30: 1, 40: 1e-21, 41: 1e-23 }))[2]!;
    expect([row.from - 2 * X_COUNT, row.to - 2 * X_COUNT]).toEqual([15, 46]);
  });

  it("have two rows beside them, ever wider; of the others none is kept, and none leaves its row", () => {
    const rows = stretchOf(weights({ 12: 1, 90: 1 })).map(({ from, to }, j) => [from - j * X_COUNT, to - j * X_COUNT]);
    expect(rows.slice(0, 6)).toEqual([
      [0, 96],
      [2, 96],
      [7, 96],
      [2, 96],
      [0, 96],
      [0, 0],
    ]);
  });

  it("are enough where their ends weigh next to nothing, or the grid ends there too", () => {
    const stretch: Stretch = ALL_NODES.map(({ from }) => ({ from, to: from + 50 }));
    expect(endsAreLight(stretch, weights({ 0: 1, 40: 1, 49: 1e-14 }))).toBe(true);
    expect(endsAreLight(stretch, weights({ 0: 1, 40: 1, 49: 1e-12 }))).toBe(false);
  });

  it("are not enough where a row beside those left out weighs anything", () => {
    const weight = weights({ 30: 1 });
    const stretch: Stretch = ALL_NODES.map(({ from }, j) => ({ from, to: j > 3 ? from : from + 50 }));
    expect(endsAreLight(stretch, weight)).toBe(true);
    weight[3 * X_COUNT + 20] = 1e-12;
    expect(endsAreLight(stretch, weight)).toBe(false);
  });
});

function withLow(question: Question, low_fraction: number): Question {
  return { ...question, assumptions: { ...question.assumptions, low_fraction } };
}

/** Of two posteriors: the largest difference of weights as a share of the largest, and of mean charges in grams. */
function apart(a: ReturnType<typeof posteriorOf>, b: ReturnType<typeof posteriorOf>): [number, number] {
  const largest = Math.max(...a.weight);
  let weight = 0;
  let mean_m = 0;
  for (let n = 0; n < NODES; n++) {
    weight = Math.max(weight, Math.abs(a.weight[n]! - b.weight[n]!) / largest);
    if (a.weight[n]! > 1e-9 * largest) mean_m = Math.max(mean_m, Math.abs(a.mean_m[n]! - b.mean_m[n]!));
  }
  return [weight, mean_m];
}

describe("a posterior within the nodes that counted under another assumption", () => {
  const questions = variedRequests(40).map((request) => questionOf(request));

  it("is that of all nodes, to 1e-10 of the largest weight", () => {
    for (const question of questions) {
      const { clocks, stretches } = posteriorOf(question, { record: false });
      for (const low_fraction of [0.5, 0.7]) {
        const other = withLow(question, low_fraction);
        const all = posteriorOf(other, { record: false, clocks });
        const [weight, mean_m] = apart(all, posteriorOf(other, { record: false, clocks, within: stretches }));
        expect(weight).toBeLessThan(1e-10);
        expect(mean_m).toBeLessThan(1e-9 * question.nameplate_g);
      }
    }
  });

  it("is done again with all of them where these turn out to be too few", () => {
    const few: Stretch = ALL_NODES.map(({ from }) => ({ from: from + 10, to: from + 12 }));
    for (const question of questions.slice(0, 6)) {
      const all = posteriorOf(question, { record: false });
      const within = posteriorOf(question, { record: false, clocks: all.clocks, within: all.stretches.map(() => few) });
      expect(apart(all, within)).toEqual([0, 0]);
    }
  });
});
