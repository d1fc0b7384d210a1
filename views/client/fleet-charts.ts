import { budgetCurve } from "./charts/budget-curve.ts";
import { drawCharts } from "./charts/drawing.ts";
import { fleetCosts, fleetLeaks } from "./charts/fleet-compare.ts";
import { addedAndLost, leakByGroup, lowByMonth, releaseByRank } from "./charts/fleet-pictures.ts";
import { predictedAndCame } from "./charts/predicted-came.ts";

/* The charts of the fleet's pages: apart from an answer's, which most visitors fetch alone. */
drawCharts({
  "added-lost": addedAndLost,
  "budget-curve": budgetCurve,
  "fleet-costs": fleetCosts,
  "fleet-leaks": fleetLeaks,
  "leak-by-group": leakByGroup,
  "low-by-month": lowByMonth,
  "predicted-came": predictedAndCame,
  "release-by-rank": releaseByRank,
});
