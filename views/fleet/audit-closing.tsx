import { Fold } from "../answer/fold.tsx";
import { Confirm } from "../parts/confirm.tsx";
import { FigureCell } from "../parts/figure-cell.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { Day } from "../words/said.tsx";
import { type AuditPageProps, estimatedKg, kg } from "./audit-shown.ts";
import { vehicles } from "./shown.ts";

/** The closing of a year: what stands, what changed since, and what was closed before. */
export function Closing(props: AuditPageProps) {
  const { year, partial, total, closed, closings, now, corrections, may_edit } = props;
  const last = closings[0]?.number ?? 0;
  const fields = { year, version: last };
  const before = closings.filter(({ number }) => number !== closed?.number);
  return (
    <section class="fleet-report">
      {closed === null ? (
        !partial &&
        total.vehicles > 0 &&
        may_edit && (
          <Confirm
            name={`Close ${year}`}
            question="The figures are kept as they are now. Later corrections are shown beside them."
            action="/fleet/audit/closing"
            fields={fields}
          />
        )
      ) : (
        <>
          <p>
            Closed on <Day iso={closed.closed_at.slice(0, 10)} /> by {closed.closed_by}: these figures stay.
          </p>
          {now !== null && (corrections.length > 0 || Math.abs(now.lost_g - total.lost_g) > 0.005 * total.lost_g) && (
            <Fold
              id="corrections"
              title={
                corrections.length === 0
                  ? "The estimate has changed since"
                  : `Records of ${vehicles(corrections.length)} changed since`
              }
            >
              <p>
                Calculated now: {kg(now.added_g)} charged ({change(now.added_g - total.added_g)}), {kg(now.recovered_g)}{" "}
                recovered ({change(now.recovered_g - total.recovered_g)}), about {estimatedKg(now.lost_g)} released (
                {change(now.lost_g - total.lost_g)}).
              </p>
              {corrections.length > 0 && <Corrections corrections={corrections} />}
            </Fold>
          )}
          {may_edit && (
            <div class="actions fleet-below">
              {corrections.length > 0 && (
                <Confirm
                  name="Close again with the corrections"
                  question="Today's figures are reported from now on. The earlier closing is kept."
                  action="/fleet/audit/closing"
                  fields={fields}
                />
              )}
              <Confirm
                name={`Reopen ${year}`}
                question="The page shows today's figures again. What was closed is kept."
                action="/fleet/audit/reopening"
                fields={fields}
              />
            </div>
          )}
        </>
      )}
      {before.map((one) => (
        <p>
          Closing {one.number} of <Day iso={one.closed_at.slice(0, 10)} />
          {one.reopened_at !== null ? (
            <>
              , reopened on <Day iso={one.reopened_at.slice(0, 10)} />
            </>
          ) : (
            ", replaced by a later one"
          )}
          .
        </p>
      ))}
    </section>
  );
}

function change(grams: number): string {
  return grams < 0 ? kg(grams) : `+${kg(grams)}`;
}

function Corrections({ corrections }: Pick<AuditPageProps, "corrections">) {
  return (
    <section class="table-scroll" aria-label="Changed since" tabindex={0}>
      <table class="fleet-list">
        <TableHead words={["Vehicle", "What"]} figures={["Charged then", "now", "Recovered then", "now"]} />
        <tbody>
          {corrections.map(({ label, what, charged, recovered }) => (
            <tr>
              <th scope="row" dir="auto">
                {label}
              </th>
              <td data-heading="What">
                {what === "changed" ? "other amounts" : what === "added" ? "new" : "not there now"}
              </td>
              <FigureCell heading="Charged then">{kg(charged.then_g)}</FigureCell>
              <FigureCell heading="Charged now">{kg(charged.now_g)}</FigureCell>
              <FigureCell heading="Recovered then">{kg(recovered.then_g)}</FigureCell>
              <FigureCell heading="Recovered now">{kg(recovered.now_g)}</FigureCell>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
