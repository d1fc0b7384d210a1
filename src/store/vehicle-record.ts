import { requestBounds } from "../../data/parameters.ts";
import { planAndPrices, type ScopedTerms, termsFor } from "../core/fleet/terms.ts";
import { withReadings } from "../core/leak/readings-look.ts";
import type {
  AssessRequest,
  LeakBelief,
  LogEntry,
  LoggedSpan,
  PlanInput,
  PricesInput,
} from "../core/question/contract.ts";
import { firstLogDate } from "../core/question/log-dates.ts";
import {
  type ChargeLine,
  type FindingLine,
  modelledEntry,
  type NoteLine,
  type OwnPrices,
  type Vehicle,
} from "../core/question/record.ts";
import { mergedPrices, type PriceTerms, priceTerms } from "../core/quotes/price-terms.ts";
import { countingReadings } from "../core/readings/counting.ts";
import { judgeReadings } from "../core/readings/judge.ts";
import type { Readings, ReadingsJudgement } from "../core/readings/readings-contract.ts";
import type { ReadingsLine } from "../core/readings/record.ts";
import type { Logged } from "./fleet-terms.ts";
import type { OwnBook } from "./price-books.ts";
import type { Workspace } from "./workspaces.ts";

/** All that holds now about one vehicle, read in one moment. */
export interface VehicleRecord {
  workspace: Workspace;
  vehicle: Vehicle;
  charge_log: ChargeLine[];
  findings: FindingLine[];
  readings: ReadingsLine[];
  notes: NoteLine[];
  /** The workspace's own price books, archived ones too. */
  price_books: OwnBook[];
  /** What the workspace's fleet says for many vehicles at once. */
  fleet_terms: ScopedTerms[];
  /** Every charge between two days is in the log; null where nobody said so. */
  logged: Logged | null;
  /** How vehicles of its group leak, as last fitted; null without a group that has enough logs. */
  group_belief: LeakBelief | null;
}

/** What the model's question is made of. */
export type AssessedRecord = Omit<VehicleRecord, "notes">;

/**
 * The request to the model for a record on the day `as_of`. The vehicle's own numbers go before those of the workspace.
 * The log is cut to what the model takes: nothing after that day, nothing too old, the newest entries if there are too
 * many. Readings that still count say whether it is low. `climateMeans` gives the twelve monthly means of a preset
 * climate, null for an unknown one. Money in another currency than `currency` is left out.
 */
export function assessRequestOf(
  record: AssessedRecord,
  as_of: string,
  climateMeans: (climate: string) => readonly number[] | null,
  currency: string = termsOf(record).currency,
): AssessRequest {
  const { workspace, vehicle, charge_log, findings } = record;
  const { log, findings: finding_bounds } = requestBounds;
  const meansOf = ({ monthly_mean_c, climate }: Vehicle | Workspace) =>
    monthly_mean_c ?? (climate === null ? null : climateMeans(climate));
  const taken = <T extends { date: string }>(lines: readonly T[], max: number) =>
    lines.filter(({ date }) => date <= as_of && date >= firstLogDate(as_of)).slice(-max);
  const read = judgedReadings(record, as_of);
  const own = moneyIn(vehicle, workspace.currency, currency);
  const general = moneyIn(workspace, workspace.currency, currency);
  const terms = termsFor(vehicle, record.fleet_terms, currency);
  const fleet = planAndPrices(terms);
  const request: AssessRequest = {
    as_of,
    vehicle: {
      refrigerant: vehicle.refrigerant,
      nameplate_g: vehicle.nameplate_g,
      kind: vehicle.kind,
      ...beliefOf(record),
      monthly_mean_c:
        meansOf(vehicle) ?? (terms?.climate == null ? null : climateMeans(terms.climate)) ?? meansOf(workspace),
    },
    log: taken(charge_log, log.max_entries).flatMap(entriesOf).slice(-log.max_entries),
    findings: taken(findings, finding_bounds.max_entries).map(({ date, test, location, result }) => ({
      date,
      test,
      location,
      result,
    })),
    ...loggedOf(record, as_of),
    plan: { ...general.plan, ...fleet.plan, ...own.plan },
    prices: mergedPrices(mergedPrices(general.prices, fleet.prices), own.prices),
    assumptions: { ...workspace.assumptions, ...vehicle.assumptions },
  };
  return read === null ? request : withReadings(request, read.judgement.says, read.line.date);
}

/** Where the rules of its place are those of: its depot's, else the workspace's; null where nobody said one. */
export function placeSaid({ workspace, vehicle, fleet_terms }: Omit<AssessedRecord, "price_books">): string | null {
  return termsFor(vehicle, fleet_terms, workspace.currency)?.place ?? workspace.place;
}

/** Its group informs what is believed of its leak, until a repair in the log makes it another one. */
function beliefOf({ group_belief, charge_log }: AssessedRecord): { leak_prior?: LeakBelief } {
  return group_belief === null || charge_log.some(({ repair }) => repair !== null) ? {} : { leak_prior: group_belief };
}

/** Where every charge is in the log, as far as that reaches on the day of the question. */
function loggedOf({ logged }: AssessedRecord, as_of: string): { logged?: LoggedSpan } {
  if (logged === null) return {};
  const from = logged.from_date === null ? null : latest(logged.from_date, firstLogDate(as_of));
  const until = logged.until_date < as_of ? logged.until_date : as_of;
  if (until < firstLogDate(as_of) || (from !== null && from > until)) return {};
  return { logged: { from, until, missed: logged.missed } };
}

function latest(a: string, b: string): string {
  return a > b ? a : b;
}

/** Readings of a vehicle and what they mean. */
export interface JudgedReadings {
  line: ReadingsLine;
  readings: Readings & { ambient_c: number };
  judgement: ReadingsJudgement;
}

/** The readings that still count for the answer of the day `as_of`, and what they mean; null without any. */
export function judgedReadings(
  { vehicle, charge_log, readings }: AssessedRecord,
  as_of: string,
): JudgedReadings | null {
  const line = countingReadings(readings, charge_log, as_of);
  return line === null ? null : judgedLine(vehicle, line);
}

/** What readings mean for the vehicle that they were taken at. */
export function judgedLine(
  vehicle: Pick<Vehicle, "refrigerant" | "nameplate_g" | "system_volume_ml" | "electric_compressor">,
  line: ReadingsLine,
): JudgedReadings {
  const { refrigerant, nameplate_g, system_volume_ml, electric_compressor } = vehicle;
  const compressor = electric_compressor ? "electric" : line.compressor;
  const readings = { ...line, refrigerant, nameplate_g, system_volume_ml, compressor };
  const judgement = judgeReadings(readings);
  if (judgement.kind !== "judgement") throw new RangeError(`Stored readings without a usable ambient: ${line.id}`);
  return { line, readings, judgement };
}

/** What an entry says, and the look after it. */
function entriesOf(line: ChargeLine): LogEntry[] {
  const { date, date_within_days, cooling_after } = line;
  return cooling_after === null
    ? [modelledEntry(line)]
    : [modelledEntry(line), { date, date_within_days, cooling: cooling_after }];
}

/** Leaves out prices in another currency: they must not be taken for amounts in `currency`. */
export function moneyIn<Own extends { plan: PlanInput; prices: OwnPrices }>(
  { plan, prices: { currency: said, ...prices } }: Own,
  workspace_currency: string,
  currency: string,
): { plan: PlanInput; prices: PricesInput } {
  if ((said ?? workspace_currency) === currency) return { plan, prices };
  const { carbon_price_per_t, season_worth, ...others } = plan;
  return { plan: others, prices: {} };
}

/** Whose prices the answer about a vehicle is worked out with. */
export function termsOf({
  workspace,
  vehicle,
  price_books,
}: Pick<AssessedRecord, "workspace" | "vehicle" | "price_books">): PriceTerms<OwnBook> {
  return priceTerms(workspace, price_books, vehicle);
}
