import { describe, expect, it } from "vitest";
import { GROWTH, NODES, X, X_COUNT } from "../../../src/core/leak/leak-grid.ts";
import { nodesOf } from "../../../src/core/leak/nodes.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { carRequest, toppedOffEvery } from "../samples.ts";

describe("nodesOf(posterior)", () => {
  const posterior = posteriorOf(questionOf(carRequest(toppedOffEvery(365, 3))));
  const largest = Math.max(...posterior.weight);
  const kept = Array.from({ length: NODES }, (_, n) => n).filter((n) => posterior.weight[n]! >= 1e-6 * largest);
  const nodes = nodesOf(posterior, 650);

  it("keeps those of at least a millionth of the largest weight, weighing one together", () => {
    expect(nodes.count).toBe(kept.length);
    expect(kept.length).toBeLessThan(NODES);
    const total = kept.reduce((sum, n) => sum + posterior.weight[n]!, 0);
    for (const [i, n] of kept.entries()) expect(nodes.weight[i]).toBeCloseTo(posterior.weight[n]! / total, 14);
  });

  it("keeps each one's leak, growth and charges", () => {
    for (const [i, n] of kept.entries()) {
      expect([nodes.k[i], GROWTH[nodes.growth_index[i]!]]).toEqual([
        X[n % X_COUNT]! * 650,
        GROWTH[Math.floor(n / X_COUNT)],
      ]);
      expect([nodes.mean_m[i], nodes.mean_b[i]]).toEqual([posterior.mean_m[n], posterior.mean_b[n]]);
      expect([nodes.var_m[i], nodes.cov_mb[i], nodes.var_b[i]]).toEqual([
        posterior.var_m[n],
        posterior.cov_mb[n],
        posterior.var_b[n],
      ]);
    }
  });
});
