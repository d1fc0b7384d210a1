import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { Cans, TopOffPlan } from "../../src/core/top-off-plan.ts";
import { Entry } from "../parts/entry.tsx";
import { saidMoney } from "../words/numbers.ts";
import { Charge, Day, Money } from "../words/said.tsx";
import { saidCans } from "./weighed.ts";

/** Cans, what becomes of what is in them, deposit, tools. */
export function Shopping({ plan, units }: { plan: TopOffPlan; units: UnitSystem }) {
  const { cans, deposit, tools } = plan;
  if (cans === null) return null;
  const said = saidCans(cans, units);
  return (
    <>
      <Entry name="Cans">
        <p>
          Buy <strong>{cans.buy === 1 ? "1 can" : `${cans.buy} cans`}</strong>: {canText(cans, said)}
        </p>
        <p>
          About <Charge>{said.leaves}</Charge> leaves the cans by weight; the hose and the can keep about {said.stays}{" "}
          of it.
        </p>
        {deposit !== null && (
          <p>
            A deposit of <Money>{saidMoney(deposit.per_can * cans.buy, deposit.currency)}</Money> comes back when the
            cans are returned to the same store, with the receipt, by <Day iso={deposit.return_by} />.
          </p>
        )}
      </Entry>
      <Entry name="Tools">
        <ul class="tools">
          {tools.map(({ name, why }) => (
            <li>
              <strong>{name}.</strong> {why}
            </li>
          ))}
        </ul>
      </Entry>
    </>
  );
}

function canText({ whole, part_g }: Cans, { part: out, left }: ReturnType<typeof saidCans>): string {
  if (part_g === 0 || left === null) return whole === 1 ? "it is used up." : "all are used up.";
  const part = `${out} out of ${whole === 0 ? "it" : "the last one"}, ${left} stays in it.`;
  return whole === 0 ? part : `${whole === 1 ? "one whole" : `${whole} whole`}, and ${part}`;
}
