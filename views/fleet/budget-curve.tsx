import { Fold } from "../answer/fold.tsx";
import { ChartFigure } from "../parts/figure.tsx";
import { FigureCell } from "../parts/figure-cell.tsx";
import { ChartHead } from "../parts/table-head.tsx";
import type { Planned } from "./budget-shown.ts";
import { saidTotal, saidTotalCo2e } from "./shown.ts";

/** What each sum for repairs saves or avoids, as a chart and its table. */
export function Curve({ year: { plan }, terms, labels, manner }: Planned) {
  const { curve, path } = plan;
  const [first] = curve;
  if (first === undefined || curve.length < 2) return null;
  const { aim } = terms;
  const base = aim === "cost" ? plan.as_is.expected_cost : plan.as_is.co2e_kg;
  const said = (amount: number) =>
    aim === "cost" ? saidTotal(amount, manner) : saidTotalCo2e(amount).replace(/^-/, "−");
  const last = curve.at(-1)!;
  const gain = (least: number) => first.least - least;
  const half = curve.find(({ least }) => gain(least) >= gain(last.least) / 2) ?? last;
  const row = (kind: string, budget: number, least: number, order: string) => (
    <tr data-kind={kind}>
      <td>{order}</td>
      <FigureCell value={budget}>{saidTotal(budget, manner)}</FigureCell>
      <FigureCell value={aim === "cost" ? base - least : (base - least) / 1000}>{said(base - least)}</FigureCell>
    </tr>
  );
  return (
    <Fold id="what-a-budget-brings" title="What a budget brings">
      <ChartFigure
        id="budget-curve"
        kind="budget-curve"
        title={`Half of all that can be ${aim === "cost" ? "saved" : "avoided"} takes ${saidTotal(half.budget, manner)} this year`}
        summary={`What money for repairs ${aim === "cost" ? "saves" : "avoids"} over the years, compared with topping off for ever. It rises from ${said(base - first.least)} at ${saidTotal(first.budget, manner)}, the least outlay, to ${said(base - last.least)} at ${saidTotal(last.budget, manner)}. Each point is a work order of this plan.`}
        settings={{
          "data-budget": plan.feasible ? terms.budget : undefined,
          "data-aim": aim,
          "data-currency": manner.currency,
        }}
      >
        <ChartHead
          words={{ order: "Work order" }}
          figures={{
            budget: "Money for repairs",
            saved: aim === "cost" ? "Saved over the years" : "CO₂e avoided over the years",
          }}
        />
        <tbody>
          {curve.map(({ budget, least }) => row("point", budget, least, ""))}
          {path.map(({ vehicle_id, budget, least }) => row("order", budget, least, labels.get(vehicle_id) ?? ""))}
        </tbody>
      </ChartFigure>
    </Fold>
  );
}
