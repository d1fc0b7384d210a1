import { pageNumber } from "../../src/core/quantities/number-text.ts";
import { Fold } from "../answer/fold.tsx";
import { FigureCell } from "../parts/figure-cell.tsx";
import { Pager } from "../parts/pager.tsx";
import { PricesUsedLine } from "../parts/prices-used.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { vehiclePath } from "../vehicles/record/record.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { Money, Release } from "../words/said.tsx";
import { Curve } from "./budget-curve.tsx";
import { type BudgetPageProps, isPlanned, type Planned, settlingOf } from "./budget-shown.ts";
import { FleetFrame } from "./frame.tsx";
import { OrderTable, saidSaving } from "./order-table.tsx";
import { PlanForm } from "./plan-form.tsx";
import { Settled } from "./settled.tsx";
import { type MoneyAndUnits, saidSum, saidTotal, saidTotalCo2e, vehicles } from "./shown.ts";
import { SaidTerms } from "./terms-page.tsx";

/** `/fleet/budget`: how far money for repairs goes, and on which vehicles. */
export function BudgetPage(props: BudgetPageProps) {
  const { errors, reckoned, asset } = props;
  const planned = isPlanned(props) ? props : null;
  return (
    <FleetFrame
      title="Fleet budget"
      path="/fleet/budget"
      asset={asset}
      may_edit={props.may_edit}
      errors={errors}
      charts
    >
      <p class="page-name">Fleet budget</p>
      <h1 class="page-title">{planned === null ? "How far does this year's repair money go?" : finding(planned)}</h1>
      {reckoned === 0 ? (
        <p>
          No vehicle is calculated yet. <a href="/fleet">Calculate the fleet first</a>
        </p>
      ) : (
        <>
          {planned !== null && <Worth {...planned} />}
          <PlanForm {...props} />
          {planned !== null && <SavePlan {...planned} />}
          {planned !== null && <Depots {...planned} />}
          {planned !== null && <Orders {...planned} />}
          {planned !== null && <NotDone {...planned} />}
          {planned !== null && <NextInLine {...planned} />}
          {planned !== null && <Curve {...planned} />}
          <Settled {...props} />
          <PricesUsedLine prices={props.manner.prices} />
          <Fold id="fleet-terms" title="Prices and years of this fleet">
            <SaidTerms said={props.fleet_terms} currency={props.manner.currency} whose="" />
            <p>
              <a href="/fleet/terms">Change prices and records</a>
            </p>
          </Fold>
          <Terms />
        </>
      )}
    </FleetFrame>
  );
}

function finding({ year: { plan, orders }, terms, manner }: Planned): string {
  const budget = saidSum(terms.budget, manner);
  if (!plan.feasible) {
    const least = saidTotal(plan.least_outlay.repair_outlay, manner);
    return plan.least_outlay.repair_outlay > terms.budget
      ? `${budget} repairs ${pageNumber(orders.length)} of the vehicles that need it. All need ${least}`
      : `Shop time or money is short: ${vehicles(orders.length)} can be repaired in ${terms.year}`;
  }
  const saved = plan.as_is.expected_cost - plan.totals.expected_cost;
  const avoided = plan.as_is.co2e_kg - plan.totals.co2e_kg;
  const brings = terms.aim === "co2e" ? `avoids ${saidTotalCo2e(avoided)} of CO₂e` : saidEffect(saved, manner);
  if (plan.shadow_price > 0) return `${budget} for repairs ${brings}`;
  return `${saidTotal(plan.totals.repair_outlay, manner)} covers every repair that pays off, and ${brings}`;
}

function saidEffect(saved: number, manner: MoneyAndUnits): string {
  return saved < 0 ? `costs ${saidTotal(-saved, manner)} more in all` : `saves ${saidTotal(saved, manner)}`;
}

function Worth({ year: { plan, orders, not_done, next_steps }, terms, manner }: Planned) {
  const { totals, as_is, reserve, exact, gap_share, left_out } = plan;
  const saved = as_is.expected_cost - totals.expected_cost;
  const [next] = next_steps;
  return (
    <div class="fleet-worth">
      <p>
        {vehicles(orders.length)} to repair or test in {terms.year} for{" "}
        <Money>{saidTotal(totals.repair_outlay - reserve, manner)}</Money>
        {reserve >= 1 && (
          <>
            , and <Money>{saidTotal(reserve, manner)}</Money> set aside for top-offs that may end in a repair
          </>
        )}
        . Routine top-offs come on top: about <Money>{saidTotal(totals.routine_outlay, manner)}</Money>.
      </p>
      {plan.feasible && (
        <p>
          Compared with always topping off, that {saved < 0 ? "costs " : "saves "}
          <Money>{saidTotal(Math.abs(saved), manner)}</Money>
          {saved < 0 ? " more" : ""} over the years and avoids{" "}
          <Release>{saidTotalCo2e(as_is.co2e_kg - totals.co2e_kg)} of CO₂e</Release>.{" "}
          {exact ? "No better plan exists." : `No plan is better by more than ${(100 * gap_share).toPrecision(1)}%.`}
        </p>
      )}
      {not_done.length > 0 && (
        <p class="fleet-flag">
          {vehicles(not_done.length)} that cannot be topped off must wait: there is not enough money or shop time.
        </p>
      )}
      {next !== undefined && (
        <p>
          Next: {next.vehicle.label}, {OPTION_NAMES[next.option.id].doing}, for{" "}
          <Money>{saidSum(next.price, manner)}</Money> more. It{" "}
          {next.saves < 0 ? (
            <Money>{saidSaving(next.saves, manner)}</Money>
          ) : (
            <>
              saves <Money>{saidSum(next.saves, manner)}</Money>
            </>
          )}{" "}
          and avoids <Release>{saidTotalCo2e(next.avoids_kg)}</Release>.
        </p>
      )}
      {left_out.length > 0 && (
        <p>
          {vehicles(left_out.length)} {left_out.length === 1 ? "is" : "are"} left out: no option is allowed.
        </p>
      )}
    </div>
  );
}

/** Saves what is shown as the plan of the year. */
function SavePlan({ terms, query, kept_version, submit_key, may_edit }: Planned) {
  if (kept_version === null && !may_edit) return null;
  return (
    <div class="actions fleet-below">
      {may_edit && (
        <form method="post" action="/fleet/plan">
          {[...query].map(([name, value]) => (
            <input type="hidden" name={name} value={value} />
          ))}
          <input type="hidden" name="version" value={kept_version ?? 0} />
          <input type="hidden" name="submit_key" value={submit_key} />
          <button type="submit" class={kept_version === null ? "button" : "button-quiet"}>
            {kept_version === null ? `Save as the plan for ${terms.year}` : `Replace the plan for ${terms.year}`}
          </button>
        </form>
      )}
      {kept_version !== null && <a href={`/fleet/plan?year=${terms.year}`}>Open the plan for {terms.year}</a>}
    </div>
  );
}

function Depots({ year: { by_depot }, manner }: Planned) {
  if (by_depot.length < 2) return null;
  return (
    <Fold id="by-depot" title="By depot">
      <section class="table-scroll" aria-label="By depot" tabindex={0}>
        <table class="fleet-list">
          <TableHead
            words={["Depot"]}
            figures={["Orders", "Repairs", "Own money", "Routine top-offs", "Saves over the years", "Avoids, CO₂e"]}
          />
          <tbody>
            {by_depot.map((sum) => (
              <tr>
                <th scope="row" dir="auto">
                  {sum.depot ?? "No depot"}
                </th>
                <FigureCell heading="Orders">{pageNumber(sum.orders)}</FigureCell>
                <FigureCell heading="Repairs">
                  <Money>{saidTotal(sum.repair_outlay, manner)}</Money>
                </FigureCell>
                <FigureCell heading="Own money">
                  {sum.money === null ? "shared" : saidTotal(sum.money, manner)}
                </FigureCell>
                <FigureCell heading="Routine top-offs">{saidTotal(sum.routine_outlay, manner)}</FigureCell>
                <FigureCell heading="Saves over the years">
                  <Money>{saidSaving(sum.saves, manner)}</Money>
                </FigureCell>
                <FigureCell heading="Avoids, CO₂e">
                  <Release>{saidTotalCo2e(sum.avoids_kg)}</Release>
                </FigureCell>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </Fold>
  );
}

function Orders(props: Planned) {
  const { orders, page, pages, address, csv, year, manner } = props;
  const count = year.orders.length;
  return (
    <section class="fleet-orders">
      <h2>Work orders</h2>
      {count === 0 ? (
        <p>None. Every vehicle is topped off when it is low.</p>
      ) : (
        <>
          <OrderTable name="Work orders" orders={orders} manner={manner} settling={settlingOf(props)} />
          <div class="actions fleet-below">
            <a href={csv}>{count === 1 ? "Export" : `Export all ${pageNumber(count)}`} as CSV</a>
            <Pager page={page} pages={pages} address={address} />
          </div>
        </>
      )}
    </section>
  );
}

function NotDone({ year: { not_done } }: Planned) {
  if (not_done.length === 0) return null;
  return (
    <section class="fleet-orders">
      <h2>Not done in this plan</h2>
      <p>These cannot be topped off, so they stay as they are until there is money or shop time.</p>
      <ul>
        {not_done.map(({ vehicle }) => (
          <li>
            <a href={vehiclePath(vehicle.id)} dir="auto">
              {vehicle.label}
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

function NextInLine(props: Planned) {
  const { next_steps } = props.year;
  if (next_steps.length === 0) return null;
  return (
    <Fold id="next-in-line" title="Next in line, with more money">
      <OrderTable name="Next in line" orders={next_steps} manner={props.manner} settling={settlingOf(props)} />
    </Fold>
  );
}

function Terms() {
  return (
    <details class="numbers">
      <summary>What is counted</summary>
      <p>
        Money for repairs is what is expected to fall due within a year from the day of the calculation: the repair or
        test with what follows from it, and the small chance of a relapse or of damage, nothing discounted. A repair's
        own bill may be more or less, by where the leak turns out to be; over many vehicles that evens out. Routine
        top-offs are not part of it. Where a top-off that does not last would end in a repair within the year, that
        money is set aside. Savings are against topping off for ever, in today's money, over the years each vehicle is
        kept. The months begin with the vehicles that run low first. Each vehicle gets one of the options allowed for
        it.
      </p>
    </details>
  );
}
