import type { FleetPlan } from "../../src/core/fleet/order.ts";
import { pageNumber } from "../../src/core/quantities/number-text.ts";
import type { AssetUrl } from "../assets.ts";
import { TableHead } from "../parts/table-head.tsx";
import { WorkCautions } from "../parts/work-cautions.tsx";
import { Day, Money } from "../words/said.tsx";
import { FleetFrame } from "./frame.tsx";
import { expectedShown, OrderRow, type ShownOrder, type TypedOrder, takenShown } from "./plan-order.tsx";
import { type MoneyAndUnits, saidTotal, saidTotalCo2e } from "./shown.ts";

export interface PlanPageProps {
  year: number;
  /** Those with a plan, the latest first. */
  years: readonly number[];
  plan: FleetPlan | null;
  orders: readonly ShownOrder[];
  /** Address of the budget with the terms of this plan. */
  edit: string;
  /** Whether a month of the year is left. */
  may_replan: boolean;
  today: string;
  submit_key: string;
  manner: MoneyAndUnits;
  may_edit: boolean;
  /** The order whose tick could not be read. */
  open: TypedOrder | null;
  /** What someone else changed first. */
  overtaken: "order" | "plan" | null;
  asset: AssetUrl;
}

type Kept = PlanPageProps & { plan: FleetPlan };

/** `/fleet/plan`: the repairs of a year, ticked off one by one; on paper, work orders by depot. */
export function PlanPage(props: PlanPageProps) {
  const { plan, year, years, orders, overtaken, open, asset } = props;
  const errors = (open?.errors ?? []).map(({ field, message }) => ({ field: `${field}-${open!.id}`, message }));
  return (
    <FleetFrame title={`Repairs in ${year}`} path="/fleet/plan" asset={asset} may_edit={props.may_edit} errors={errors}>
      <p class="page-name">Plan for {year}</p>
      {plan === null ? (
        <>
          <h1 class="page-title">No plan for {year} yet</h1>
          <p>
            <a href="/fleet/budget">Plan the repairs in the budget</a>, then save the plan there.
          </p>
        </>
      ) : (
        <>
          <h1 class="page-title">{finding({ ...props, plan })}</h1>
          {overtaken !== null && (
            <p class="note" role="alert">
              Someone else changed this {overtaken} in the meantime. This is how it is now; do it again if it still
              fits.
            </p>
          )}
          <Standing {...props} plan={plan} />
          {orders.length === 0 && <p>No work order. With this money, every vehicle is topped off when it is low.</p>}
          {[...Map.groupBy(orders, ({ depot }) => depot)].map(([depot, those]) => (
            <Depot {...props} plan={plan} depot={depot} orders={those} />
          ))}
          <Actions {...props} plan={plan} />
        </>
      )}
      {years.length > 1 && (
        <p class="fleet-screen">
          Other plans:{" "}
          {years
            .filter((one) => one !== year)
            .map((one, i) => (
              <>
                {i > 0 && ", "}
                <a href={`/fleet/plan?year=${one}`}>{one}</a>
              </>
            ))}
        </p>
      )}
    </FleetFrame>
  );
}

function finding({ year, orders, plan, manner }: Kept): string {
  const done = orders.filter(({ done_on }) => done_on !== null);
  if (orders.length === 0) return `Nothing to repair in ${year}`;
  const of = `${pageNumber(done.length)} of ${pageNumber(orders.length)} repairs done`;
  return `${of} in ${year}, ${saidTotal(spentOn(done), manner)} of ${saidTotal(plan.terms.budget, manner)} spent`;
}

/** The sum of what their rows show, so that a reader can check it. */
function spentOn(orders: readonly ShownOrder[]): number {
  return orders.reduce((sum, order) => sum + takenShown(order), 0);
}

function Standing({ orders, plan, year, manner }: Kept) {
  const done = orders.filter(({ done_on }) => done_on !== null);
  const open = orders.filter(({ done_on }) => done_on === null);
  const planned = done.reduce((sum, order) => sum + expectedShown(order), 0);
  const paid = spentOn(done);
  const left = plan.terms.budget - paid - spentOn(open);
  const carried = orders.filter(({ carried_from }) => carried_from !== null).length;
  const over = paid - planned;
  return (
    <div class="fleet-worth">
      <p>
        {open.length > 0 && (
          <>
            Still to do: {pageNumber(open.length)}, for about <Money>{saidTotal(spentOn(open), manner)}</Money>.{" "}
          </>
        )}
        {done.length > 0 && Math.abs(over) >= 1 && (
          <>
            What is done cost <Money>{saidTotal(Math.abs(over), manner)}</Money> {over > 0 ? "more" : "less"} than
            planned.{" "}
          </>
        )}
        {left < -1 ? (
          <span class="fleet-flag">
            The plan is <Money>{saidTotal(-left, manner)}</Money> over the money for {year}. Plan the rest again.
          </span>
        ) : (
          orders.length > 0 && (
            <>
              <Money>{saidTotal(Math.max(0, left), manner)}</Money> is left.
            </>
          )
        )}{" "}
        {carried > 0 && <>{pageNumber(carried)} carried over from an earlier year.</>}
      </p>
      <p>
        Together they save{" "}
        <Money>
          {saidTotal(
            orders.reduce((sum, { saves }) => sum + saves, 0),
            manner,
          )}
        </Money>{" "}
        and avoid {saidTotalCo2e(orders.reduce((sum, { avoids_kg }) => sum + avoids_kg, 0))} of CO₂e over the years,
        against always topping off. Saved on <Day iso={plan.updated_at.slice(0, 10)} />.
      </p>
    </div>
  );
}

/** The orders of a depot: a sheet of its own on paper. */
function Depot(props: Kept & { depot: string | null }) {
  const { depot, orders, year, manner, may_edit } = props;
  const refrigerants = [...new Set(orders.map(({ vehicle }) => vehicle.refrigerant))];
  const name = depot ?? "No depot";
  return (
    <section class="fleet-orders fleet-depot" aria-label={name}>
      <h2 dir="auto">{name}</h2>
      <p class="fleet-paper">
        Work orders {year}, {pageNumber(orders.length)} of this depot, {saidTotal(spentOn(orders), manner)}.
      </p>
      <section class="table-scroll" aria-label={`Work orders, ${name}`} tabindex={0}>
        <table class="fleet-list">
          <TableHead words={["Box", "Vehicle", "Do", "Month"]} figures={["Expected", "Paid"]}>
            <th scope="col">Done on</th>
            {may_edit && (
              <th scope="col" class="fleet-screen">
                Tick off
              </th>
            )}
          </TableHead>
          <tbody>
            {orders.map((order) => (
              <OrderRow {...props} order={order} />
            ))}
          </tbody>
        </table>
      </section>
      <details class="on-paper">
        <summary>Take care at this work</summary>
        <WorkCautions refrigerants={refrigerants} />
      </details>
    </section>
  );
}

function Actions({ year, years, plan, edit, may_edit, may_replan, submit_key }: Kept) {
  const next = year + 1;
  const form = (action: string, words: string, version: number) => (
    <form method="post" action={action}>
      <input type="hidden" name="year" value={year} />
      <input type="hidden" name="version" value={version} />
      <input type="hidden" name="submit_key" value={`${submit_key}-${version}`} />
      <button type="submit" class="button-quiet">
        {words}
      </button>
    </form>
  );
  return (
    <div class="actions fleet-below">
      {may_edit && may_replan && form("/fleet/plan/again", "Plan the rest again", plan.version)}
      {may_edit && !years.includes(next) && form("/fleet/plan/next", `Begin the plan for ${next}`, 0)}
      {may_edit && may_replan && <a href={edit}>Change money or shop time</a>}
      <a href={`/fleet/plan.csv?year=${year}`}>Export as CSV</a>
      <p>
        To print work orders by depot, use your browser's print. What is done or held stays when the rest is planned
        again.
      </p>
    </div>
  );
}
