import { GENERAL_CURRENCY } from "../../data/currencies.ts";
import { PAGE_FORMAT } from "../../data/number-formats.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { PrintedLetterhead } from "../../src/core/quotes/quote-document.ts";
import type { MassBalance } from "../../src/core/refrigerant/cylinders.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { saidInEnglish } from "../quotes/customer-said.tsx";
import { Fact, PaperHead, SheetFoot } from "../quotes/paper-head.tsx";
import { Day } from "../words/said.tsx";
import { BalanceCells, BalanceHead } from "./cylinder-page.tsx";
import { exactMass } from "./exact-mass.ts";

/** An entry as the sheet has it; texts are "" where nobody said. */
export interface SheetLine {
  log_id: string;
  date: string;
  technician: string;
  certificate: string;
  vehicle: string;
  refrigerant: string;
  recovered_g: number | null;
  recovered_into: string;
  charged_g: number | null;
  /** Number of the cylinder, or `cans`. */
  charged_from: string;
  /** `new`, `reclaimed`, `recovered`. */
  charged_condition: string;
}

export interface SheetPageProps {
  year: number;
  letterhead: PrintedLetterhead;
  lines: readonly SheetLine[];
  balances: readonly { name: string; refrigerant: string; balance: MassBalance }[];
  units: UnitSystem;
  may_change: boolean;
  asset: AssetUrl;
}

/** `/refrigerant/years/:year`: the sheet of a year, to be printed, saved as PDF or taken into a spreadsheet. */
export function SheetPage(props: SheetPageProps) {
  const { year, letterhead, lines, balances, units, asset } = props;
  const name = `Refrigerant log ${year}`;
  return (
    <Layout title={name} by={letterhead.shop} path="" asset={asset} wide document>
      <p class="way-back screen-only">
        <a href="/refrigerant">Back to the refrigerant log</a>.{" "}
        <a href={`/refrigerant/years/${year}/sheet.csv`} download>
          Download as CSV
        </a>
      </p>
      <article class="paper">
        <PaperHead
          letterhead={letterhead}
          said={saidInEnglish({ currency: GENERAL_CURRENCY, number_format: PAGE_FORMAT })}
        >
          <Fact name="Year">{year}</Fact>
          <Fact name="Entries">{lines.length}</Fact>
        </PaperHead>
        <section class="offer-part">
          <h1 class="paper-title">{name}</h1>
          {lines.length === 0 ? <p>No refrigerant was recovered or charged in {year}.</p> : <Lines {...props} />}
        </section>
        {balances.length > 0 && <Balances balances={balances} units={units} />}
        <p class="small soft">
          Amounts as the scales showed them, from the charge logs as they stand today. What has to be recorded, and for
          how long, depends on the place: check your local rules.
        </p>
        <SheetFoot name={name} shop={letterhead.shop} />
      </article>
    </Layout>
  );
}

/** All entries of the year, and what they come to. */
function Lines({ lines, units, may_change }: SheetPageProps) {
  const sum = (of: (line: SheetLine) => number | null) => lines.reduce((total, line) => total + (of(line) ?? 0), 0);
  return (
    <section class="table-scroll" aria-label="Entries" tabindex={0}>
      <table class="sheet-table">
        <thead>
          <tr>
            <th scope="col">Date</th>
            <th scope="col">Technician, certificate</th>
            <th scope="col">Vehicle</th>
            <th scope="col">Refrigerant</th>
            <th scope="col" class="figure-cell">
              Recovered
            </th>
            <th scope="col">Into</th>
            <th scope="col" class="figure-cell">
              Charged
            </th>
            <th scope="col">From</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <Line line={line} units={units} may_change={may_change} />
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row" colspan={4}>
              In all
            </th>
            <td class="figure-cell">
              {exactMass(
                sum(({ recovered_g }) => recovered_g),
                units,
              )}
            </td>
            <td />
            <td class="figure-cell">
              {exactMass(
                sum(({ charged_g }) => charged_g),
                units,
              )}
            </td>
            <td />
          </tr>
        </tfoot>
      </table>
    </section>
  );
}

/** The mass balance of each cylinder over the year. */
function Balances({ balances, units }: Pick<SheetPageProps, "balances" | "units">) {
  return (
    <section class="offer-part">
      <h2>Cylinders: what came in and went out</h2>
      <section class="table-scroll" aria-label="Mass balance by cylinder" tabindex={0}>
        <table class="sheet-table">
          <BalanceHead first="Cylinder" />
          <tbody>
            {balances.map(({ name: cylinder, refrigerant, balance }) => (
              <tr>
                <th scope="row">
                  {cylinder}, {refrigerant}
                </th>
                <BalanceCells balance={balance} units={units} />
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </section>
  );
}

function Line({ line, units, may_change }: { line: SheetLine; units: UnitSystem; may_change: boolean }) {
  const mass = (grams: number | null) => (grams ? exactMass(grams, units) : "");
  const who = [line.technician, line.certificate].filter((text) => text !== "").join(", ");
  return (
    <tr>
      <th scope="row" class="unbroken">
        {may_change ? (
          <a href={`/refrigerant/work/${line.log_id}`}>
            <Day iso={line.date} />
          </a>
        ) : (
          <Day iso={line.date} />
        )}
      </th>
      <td>{who === "" ? "not said" : who}</td>
      <td dir="auto">{line.vehicle}</td>
      <td>{line.refrigerant}</td>
      <td class="figure-cell">{mass(line.recovered_g)}</td>
      <td class={unbroken(line.recovered_into)}>{line.recovered_into || (line.recovered_g ? "not said" : "")}</td>
      <td class="figure-cell">{mass(line.charged_g)}</td>
      <td class={unbroken(line.charged_from)}>
        {line.charged_from || (line.charged_g ? "not said" : "")}
        {line.charged_condition !== "" && `, ${line.charged_condition}`}
      </td>
    </tr>
  );
}

/** A cylinder's number stays in one line, unless it is longer than its column can be. */
function unbroken(cylinder: string): string | undefined {
  return cylinder.length <= 12 ? "unbroken" : undefined;
}
