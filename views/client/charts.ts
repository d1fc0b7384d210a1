import { chargeCurve } from "./charts/charge-curve.ts";
import { costOverYears } from "./charts/cost-over-years.ts";
import { drawCharts } from "./charts/drawing.ts";
import { releaseByYear } from "./charts/release-by-year.ts";
import { sensitivity } from "./charts/sensitivity.ts";
import { whereItLeaks } from "./charts/where-it-leaks.ts";

/* The charts of an answer. */
drawCharts({
  "charge-curve": chargeCurve,
  "cost-over-years": costOverYears,
  "release-by-year": releaseByYear,
  sensitivity,
  "where-it-leaks": whereItLeaks,
});
