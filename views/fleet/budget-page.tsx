import type { BudgetAim, BudgetPlan } from "../../src/core/fleet/budget.ts";
import type { FleetVehicle, RepairLock } from "../../src/core/fleet/row.ts";
import { pageNumber } from "../../src/core/quantities/number-text.ts";
import { Fold } from "../answer/fold.tsx";
import type { AssetUrl } from "../assets.ts";
import type { FieldError } from "../parts/error-summary.tsx";
import { RadioField, TextField } from "../parts/field.tsx";
import { ChartFigure } from "../parts/figure.tsx";
import { Pager } from "../parts/pager.tsx";
import { PricesUsedLine } from "../parts/prices-used.tsx";
import { ChartHead, TableHead } from "../parts/table-head.tsx";
import { saidCo2e } from "../words/numbers.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { Money, Release } from "../words/said.tsx";
import { FleetFrame } from "./frame.tsx";
import { type MoneyAndUnits, saidAvoided, saidSum, saidTotal, saidTotalCo2e, vehiclePath, vehicles } from "./shown.ts";

/** One work order: a vehicle whose choice is to do something else than topping off. */
export interface WorkOrder {
  vehicle: FleetVehicle;
  option: BudgetPlan["choices"][number]["option"];
  /** Against topping off: money over the years kept, and kg CO₂e; null where topping off is not offered. */
  /** Of what topping off for ever comes to; below 0, it costs more. */
  saves: number;
  avoids_kg: number;
  lock: RepairLock | null;
}

export interface BudgetPageProps {
  /** As typed. */
  budget: string;
  aim: BudgetAim;
  errors: readonly FieldError[];
  /** Null until a budget is said. */
  plan: BudgetPlan | null;
  budget_amount: number;
  orders: readonly WorkOrder[];
  /** How many work orders there are on all pages. */
  orders_count: number;
  page: number;
  pages: number;
  /** The repairs that the next money would buy, the best first. */
  next_in_line: readonly WorkOrder[];
  locked: readonly { vehicle: FleetVehicle; lock: RepairLock }[];
  reckoned: number;
  /** Address of this page with another page of orders. */
  address: (page: number) => string;
  csv: string;
  manner: MoneyAndUnits;
  may_edit: boolean;
  asset: AssetUrl;
}

/** `/fleet/budget`: how far a repair budget goes, and on which vehicles. */
export function BudgetPage(props: BudgetPageProps) {
  const { plan, errors, reckoned, asset } = props;
  return (
    <FleetFrame title="Fleet budget" path="/fleet/budget" asset={asset} errors={errors} charts>
      <p class="page-name">Fleet budget</p>
      <h1 class="page-title">{plan === null ? "How far does this year's repair money go?" : finding(plan, props)}</h1>
      {reckoned === 0 ? (
        <p>
          No vehicle is calculated yet. <a href="/fleet">Calculate the fleet first</a>
        </p>
      ) : (
        <>
          {plan !== null && <Worth {...props} plan={plan} />}
          <Ask {...props} />
          {plan !== null && <Curve {...props} plan={plan} />}
          {plan !== null && <Orders {...props} />}
          {plan !== null && <NextInLine {...props} />}
          <Locked {...props} />
          <PricesUsedLine prices={props.manner.prices} />
          <Terms />
        </>
      )}
    </FleetFrame>
  );
}

function finding(plan: BudgetPlan, { budget_amount, manner, aim }: BudgetPageProps): string {
  const budget = saidSum(budget_amount, manner);
  if (!plan.feasible) {
    return `${budget} is not enough. The least you can spend this year is ${saidTotal(plan.least_outlay.outlay_first_year, manner)}`;
  }
  const saved = plan.as_is.expected_cost - plan.totals.expected_cost;
  const avoided = plan.as_is.co2e_kg - plan.totals.co2e_kg;
  if (plan.shadow_price === 0) {
    const enough = `${budget} covers everything that pays off: ${saidTotal(plan.totals.outlay_first_year, manner)} this year`;
    return aim === "co2e"
      ? `${enough}, avoiding ${saidTotalCo2e(avoided)} of CO₂e`
      : `${enough}, saving ${saidTotal(saved, manner)}`;
  }
  if (aim === "co2e")
    return `${budget} this year avoids ${saidTotalCo2e(avoided)} of CO₂e over the years the vehicles are kept`;
  return `${budget} this year saves ${saidTotal(saved, manner)} over the years the vehicles are kept`;
}

function Worth({ plan, aim, manner, orders_count }: BudgetPageProps & { plan: BudgetPlan }) {
  const { totals, unlimited, as_is, routine_outlay, shadow_price, exact, gap_share, left_out } = plan;
  const saved = as_is.expected_cost - totals.expected_cost;
  const avoided = as_is.co2e_kg - totals.co2e_kg;
  const for_orders = totals.outlay_first_year - routine_outlay;
  return (
    <div class="fleet-worth">
      {!plan.feasible && (
        <p>
          {vehicles(orders_count)} must be repaired or cannot be topped off. The others are topped off when low. Raise
          the budget, or undo some of your own choices.
        </p>
      )}
      {plan.feasible && (
        <>
          <p>
            {vehicles(orders_count)} to repair or test for <Money>{saidTotal(for_orders, manner)}</Money> this year. The
            others are topped off when low, for about <Money>{saidTotal(routine_outlay, manner)}</Money>. Compared with
            always topping off, that {saved < 0 ? "costs " : "saves "}
            <Money>{saidTotal(Math.abs(saved), manner)}</Money>
            {saved < 0 ? " more" : ""} and avoids <Release>{saidTotalCo2e(avoided)} of CO₂e</Release>.
          </p>
          <p>
            {shadow_price > 0
              ? aim === "cost"
                ? `${saidSum(100, manner)} more to spend would save about ${saidSum(100 * shadow_price, manner)} more. `
                : `${saidSum(100, manner)} more to spend would avoid about ${saidCo2e(100 * shadow_price)} of CO₂e more. `
              : "A bigger budget would not help. "}
            {exact
              ? "No plan within this budget does better (proven)."
              : `No plan within this budget does better by more than ${(100 * gap_share).toPrecision(1)}% (proven).`}{" "}
            {shadow_price > 0 && `With no limit, the plan costs ${saidTotal(unlimited.outlay_first_year, manner)}.`}
          </p>
        </>
      )}
      {left_out.length > 0 && (
        <p>
          {vehicles(left_out.length)} {left_out.length === 1 ? "is" : "are"} left out because no option is allowed for{" "}
          {left_out.length === 1 ? "it" : "them"}.
        </p>
      )}
    </div>
  );
}

function Ask({ budget, aim, errors }: BudgetPageProps) {
  return (
    <form class="fleet-ask" method="get" action="/fleet/budget">
      <TextField
        id="budget"
        name="budget"
        label="Money for this year"
        hint="Repairs, tests, top-offs. Like 25000"
        error={errors.find(({ field }) => field === "budget")?.message}
        value={budget}
        inputmode="decimal"
        short
      />
      <RadioField
        id="aim"
        name="aim"
        label="Choose for"
        value={aim}
        choices={[
          { value: "cost", label: "the least cost over the years" },
          { value: "co2e", label: "the least release" },
        ]}
      />
      <button type="submit" class="button">
        Plan it
      </button>
    </form>
  );
}

function Curve({ plan, aim, budget_amount, manner }: BudgetPageProps & { plan: BudgetPlan }) {
  const { curve } = plan;
  const [first] = curve;
  if (first === undefined || curve.length < 2) return null;
  const base = aim === "cost" ? plan.as_is.expected_cost : plan.as_is.co2e_kg;
  const saved = (least: number) => base - least;
  const said = (amount: number) => (aim === "cost" ? saidTotal(amount, manner) : saidTotalCo2e(amount));
  const last = curve.at(-1)!;
  const half = curve.find(({ least }) => saved(least) >= saved(last.least) / 2) ?? last;
  return (
    <Fold id="what-a-budget-brings" title="What a budget brings">
      <ChartFigure
        id="budget-curve"
        kind="budget-curve"
        title={`Half of all that can be ${aim === "cost" ? "saved" : "avoided"} takes ${saidTotal(half.budget, manner)} this year`}
        summary={`What a budget ${aim === "cost" ? "saves" : "avoids"} over the years, compared with topping off for ever. It rises to ${said(saved(last.least))} at ${saidTotal(last.budget, manner)}.`}
        settings={{ "data-budget": plan.feasible ? budget_amount : undefined, "data-aim": aim }}
      >
        <ChartHead
          words={{}}
          figures={{
            budget: "Budget this year",
            saved: aim === "cost" ? "Saved over the years" : "CO₂e avoided over the years",
          }}
        />
        <tbody>
          {curve.map(({ budget, least }) => (
            <tr data-kind="point">
              <td class="figure-cell">
                <data value={budget}>{saidTotal(budget, manner)}</data>
              </td>
              <td class="figure-cell">
                <data value={saved(least)}>{said(saved(least))}</data>
              </td>
            </tr>
          ))}
        </tbody>
      </ChartFigure>
    </Fold>
  );
}

function Orders(props: BudgetPageProps) {
  const { orders_count, page, pages, address, csv } = props;
  return (
    <section class="fleet-orders">
      <h2>Work orders</h2>
      {orders_count === 0 ? (
        <p>None. With this budget, every vehicle is topped off when it is low.</p>
      ) : (
        <>
          <OrderTable {...props} name="Work orders" />
          <div class="actions fleet-below">
            <a href={csv}>{orders_count === 1 ? "Export" : `Export all ${pageNumber(orders_count)}`} as CSV</a>
            <Pager page={page} pages={pages} address={address} />
          </div>
        </>
      )}
    </section>
  );
}

function NextInLine(props: BudgetPageProps) {
  if (props.next_in_line.length === 0) return null;
  return (
    <section class="fleet-orders">
      <h2>Next in line</h2>
      <p>What to do next with a bigger budget, best first.</p>
      <OrderTable {...props} orders={props.next_in_line} name="Next in line" />
    </section>
  );
}

function OrderTable({ orders, name, manner, may_edit, address, page }: BudgetPageProps & { name: string }) {
  return (
    <section class="table-scroll" aria-label={name} tabindex={0}>
      <table class="fleet-list">
        <TableHead words={["Vehicle", "Do"]} figures={["This year", "Saves over the years", "Avoids, CO₂e"]}>
          {may_edit && (
            <th scope="col" class="fleet-screen">
              Settle
            </th>
          )}
        </TableHead>
        <tbody>
          {orders.map(({ vehicle, option, saves, avoids_kg, lock }) => (
            <tr>
              <th scope="row">
                <a href={vehiclePath(vehicle.id)} dir="auto">
                  {vehicle.label}
                </a>
                <small>{[vehicle.fleet_group, vehicle.depot].filter((part) => part !== null).join(" · ")}</small>
              </th>
              <td data-heading="Do">
                {OPTION_NAMES[option.id].name}
                {lock === "must" && <small>settled beforehand</small>}
              </td>
              <td class="figure-cell" data-heading="This year">
                <Money>{saidSum(option.outlay_first_year, manner)}</Money>
              </td>
              <td class="figure-cell" data-heading="Saves over the years">
                <Money>{saves < 0 ? `costs ${saidSum(-saves, manner)} more` : saidSum(saves, manner)}</Money>
              </td>
              <td class="figure-cell" data-heading="Avoids, CO₂e">
                <Release>{saidAvoided(avoids_kg)}</Release>
              </td>
              {may_edit && (
                <td class="fleet-screen" data-heading="Settle">
                  <LockForm vehicle={vehicle} lock={lock} back={address(page)} />
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** Settles a vehicle's repair beforehand, or leaves it open again. */
function LockForm({ vehicle, lock, back }: { vehicle: FleetVehicle; lock: RepairLock | null; back: string }) {
  const button = (value: string, words: string) => (
    <button type="submit" class="button-quiet" name="repair" value={value} aria-label={`${words}: ${vehicle.label}`}>
      {words}
    </button>
  );
  return (
    <form method="post" action="/fleet/locks" class="fleet-lock">
      <input type="hidden" name="vehicle" value={vehicle.id} />
      <input type="hidden" name="back" value={back} />
      {lock === null ? (
        <>
          {button("must", "Must")}
          {button("must-not", "Must not")}
        </>
      ) : (
        button("open", "Leave it open")
      )}
    </form>
  );
}

function Locked({ locked, may_edit, address, page }: BudgetPageProps) {
  if (locked.length === 0) return null;
  return (
    <section class="fleet-orders">
      <h2>Settled beforehand</h2>
      <ul class="fleet-locked">
        {locked.map(({ vehicle, lock }) => (
          <li>
            <span>
              <a href={vehiclePath(vehicle.id)} dir="auto">
                {vehicle.label}
              </a>{" "}
              {lock === "must" ? "must be repaired" : "must not be repaired this year"}
            </span>
            {may_edit && <LockForm vehicle={vehicle} lock={lock} back={address(page)} />}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Terms() {
  return (
    <details class="numbers">
      <summary>What is counted</summary>
      <p>
        This year's money of a choice is what is expected to fall due within a year from the day of the reckoning: the
        repair or test with what follows from it, top-offs, and the small chance of a relapse or of damage, nothing
        discounted. A repair's own bill may be more or less, by where the leak turns out to be; over many vehicles that
        evens out. Who tops off, the prices and the years kept come from the settings and from each vehicle. Costs over
        the years are in today's money. Each vehicle gets one of the options allowed for it.
      </p>
    </details>
  );
}
