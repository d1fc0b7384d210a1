import type { Context } from "hono";
import { planParameters } from "../../../data/parameters.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { VehicleQuotesPage } from "../../../views/quotes/quotes-page.tsx";
import { distanceIn, distanceUnitIn } from "../../core/quantities/distance.ts";
import { pageNumber } from "../../core/quantities/number-text.ts";
import { LOCATION_IDS } from "../../core/question/contract.ts";
import type { Vehicle } from "../../core/question/record.ts";
import { priceTerms, usualBook } from "../../core/quotes/price-terms.ts";
import { quoteBounds } from "../../core/quotes/quote.ts";
import type { VehicleOnPaper } from "../../core/quotes/quote-document.ts";
import { leakFoundAt } from "../../core/quotes/quote-options.ts";
import { newId } from "../../store/ids.ts";
import type { StoredBook } from "../../store/price-books.ts";
import { mayAct } from "../../store/roles.ts";
import type { AssessedRecord } from "../../store/vehicle-record.ts";
import type { Workspace } from "../../store/workspaces.ts";
import type { GrantedEnv } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { Refusals, tooLong } from "../forms/form-reading.ts";
import { formOf } from "../forms/posted-form.ts";
import { oneOf, readNumber } from "../forms/typed-values.ts";
import { todayIn, unitsOf } from "../workspace.ts";
import { pathOf } from "./address.ts";
import { newContent } from "./draft.ts";
import { listedQuotes } from "./listed.ts";

interface BeginFields {
  customer: string;
  keep_years: string;
  book: string;
  /** Id of the place where the leak was found; empty where that is not known. */
  found: string;
}

/**
 * GET `/vehicles/:id/quotes`: a vehicle's quotes, and the form for a new one, with what was `sent` when it was refused.
 */
export async function answerVehicleQuotes(
  c: Context<GrantedEnv>,
  deps: Deps,
  sent: { fields: BeginFields; errors: FieldError[] } | null = null,
): Promise<Response> {
  const { quotes, priceBooks, vehicles, settings, findings, chargeLog } = c.var.store;
  const vehicle = await vehicles.get(c.req.param("id") ?? "");
  const [list, books, workspace, owner, found, charge_log] = await Promise.all([
    quotes.list(vehicle.id),
    priceBooks.list(),
    settings.get(),
    ownerOf(c, vehicle.id),
    findings.list(vehicle.id),
    chargeLog.list(vehicle.id),
  ]);
  const keep_years = vehicle.plan.keep_years ?? workspace.plan.keep_years ?? planParameters.keep_years.default;
  const page = VehicleQuotesPage({
    vehicle,
    quotes: listedQuotes(list, todayIn(workspace, deps.now()), workspace.time_zone),
    books: books.map(({ id, book: { name } }) => ({ id, name })),
    fields: sent?.fields ?? {
      customer: owner.name,
      keep_years: String(keep_years),
      book: bookToBegin(books, vehicle, workspace),
      found: leakFoundAt({ findings: found, charge_log }) ?? "",
    },
    errors: sent?.errors ?? [],
    may_change: mayAct(c.var.access.role, "editor"),
    submit_key: newId(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, sent === null ? 200 : 422);
}

/** POST `/vehicles/:id/quotes`: a new draft with the options that the record speaks for. */
export async function beginQuote(c: Context<GrantedEnv>, deps: Deps): Promise<Response> {
  const form = await formOf(c);
  const fields = {
    customer: (form.get("customer") ?? "").trim(),
    keep_years: form.get("keep_years") ?? "",
    book: form.get("book") ?? "",
    found: form.get("found") ?? "",
  };
  const errors = beginErrors(fields);
  if (errors.length > 0) return answerVehicleQuotes(c, deps, { fields, errors });

  const { book } = await c.var.store.priceBooks.get(fields.book);
  const record = await c.var.store.record(c.req.param("id") ?? "");
  const keep_years = readNumber(fields.keep_years) ?? planParameters.keep_years.default;
  const today = todayIn(record.workspace, deps.now());
  const { customer } = fields;
  const found_at = oneOf(LOCATION_IDS, fields.found) ?? null;
  const { customer_id, shown, language } = await ownerOf(c, record.vehicle.id);
  const content = {
    ...newContent(record, today, { customer, keep_years, book_id: fields.book, book }, found_at),
    vehicle_shown: withReading(shown, record),
    language,
    ...(customer_id === null ? {} : { customer_id }),
  };

  const quote = await c.var.store.quotes.create(record.vehicle.id, content, null, form.get("submit_key"));
  return c.redirect(pathOf(quote), 303);
}

/** Whose vehicle it is, what papers call it, and in which language they are. */
async function ownerOf(c: Context<GrantedEnv>, vehicle_id: string) {
  const { customers, letterheads } = c.var.store;
  const { customer_id, words, plate, vin, odometer } = await customers.particulars(vehicle_id);
  const { name, language } =
    customer_id === null ? { name: "", language: "" as const } : await customers.get(customer_id);
  const { letterhead } = await letterheads.get();
  return { customer_id, name, shown: { words, plate, vin, odometer }, language: language || letterhead.language };
}

/**
 * The vehicle as papers show it, with the latest reading of its odometer where its papers have none; with the day, in
 * any language: `84,200 mi (2026-04-02)`.
 */
function withReading(shown: VehicleOnPaper, { vehicle: { odometer }, workspace }: AssessedRecord): VehicleOnPaper {
  if (shown.odometer !== "" || odometer === null) return shown;
  const unit = distanceUnitIn(unitsOf(workspace));
  return { ...shown, odometer: `${pageNumber(distanceIn(odometer.km, unit), 0)} ${unit} (${odometer.on})` };
}

function beginErrors({ customer, keep_years }: BeginFields): FieldError[] {
  const refusals = new Refusals();
  const { min, max } = planParameters.keep_years;
  const years = readNumber(keep_years) ?? Number.NaN;
  const too_long = tooLong(customer, quoteBounds.customer_chars);
  if (too_long !== null) refusals.refuse("customer", too_long);
  if (!(years >= min && years <= max)) refusals.refuse("keep_years", `Enter years from ${min} to ${max}, like 5`);
  return refusals.all();
}

/** The book that the vehicle's own page counts with; where the workspace has none yet, a sample one to look at. */
function bookToBegin(books: readonly StoredBook[], vehicle: Vehicle, workspace: Workspace): string {
  const own = books.flatMap((one) => (one.updated_at === null ? [] : [{ ...one, updated_at: one.updated_at }]));
  return (priceTerms(workspace, own, vehicle).book ?? usualBook(books, vehicle))?.id ?? "";
}
