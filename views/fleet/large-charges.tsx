import { vehiclePath } from "../vehicles/record/record.ts";
import { Day } from "../words/said.tsx";
import type { AuditPageProps } from "./audit-shown.ts";
import { vehicles } from "./shown.ts";

/** Vehicles whose charge is large enough for a rule, and those that passed its limit. */
export function LargeCharges({ flagged, rules, year }: AuditPageProps) {
  const passed = flagged.filter(({ row }) => row.over_limit_on !== null || row.chronic_on !== null);
  return (
    <section class="fleet-report">
      <h2>Large charges</h2>
      <p>
        {flagged.length === 0
          ? `No vehicle in ${year} is large enough for a leak-rate limit.`
          : passed.length === 0
            ? `${vehicles(flagged.length)} with a large charge; none over the limit in ${year}.`
            : `${vehicles(passed.length)} of ${flagged.length} with a large charge went over the limit in ${year}.`}
      </p>
      {passed.length > 0 && (
        <ul>
          {passed.map(({ row, rule }) => (
            <li>
              <a href={vehiclePath(row.id)} dir="auto">
                {row.label}
              </a>
              :{" "}
              {row.over_limit_on !== null && (
                <span class="fleet-flag">
                  over {rule.limit_percent}% a year on <Day iso={row.over_limit_on} />
                </span>
              )}
              {row.chronic_on !== null && (
                <>
                  ; leaking chronically since <Day iso={row.chronic_on} />, to be reported
                </>
              )}{" "}
              ({rule.citation})
            </li>
          ))}
        </ul>
      )}
      <details class="numbers">
        <summary>The rules</summary>
        <dl>
          {rules.map((rule) => (
            <>
              <dt>
                {rule.citation}, {rule.place}, since <Day iso={rule.from} />
              </dt>
              <dd>
                {rule.says} {rule.doubt} Checked on <Day iso={rule.checked} />.
              </dd>
            </>
          ))}
        </dl>
      </details>
    </section>
  );
}
