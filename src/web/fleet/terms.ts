import { type Context, Hono } from "hono";
import { CLIMATES } from "../../../data/climates.ts";
import { loggedParameters, planParameters, priceParameters } from "../../../data/parameters.ts";
import { PLACES } from "../../../data/rules.ts";
import { vehicles } from "../../../views/fleet/shown.ts";
import {
  type LoggedFields,
  type TermsFields,
  TermsPage,
  type TermsPageProps,
} from "../../../views/fleet/terms-page.tsx";
import { type FleetTerms, outageBounds, type TermScope } from "../../core/fleet/terms.ts";
import { pageNumber } from "../../core/quantities/number-text.ts";
import { GRAMS_PER_UNIT } from "../../core/quantities/units.ts";
import { SERVICES } from "../../core/question/contract.ts";
import { mayAct } from "../../store/roles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { type DayContext, type Read, Refusals, readDay } from "../forms/form-reading.ts";
import { formOf, typedFields } from "../forms/posted-form.ts";
import { isEmpty, oneOf, readMoney, readNumber } from "../forms/typed-values.ts";
import { dayContextOf, moneyAndUnits, todayIn } from "../workspace.ts";

/** What a fleet says once for many vehicles: prices, years, and what its records hold. */
export function fleetTermsRoutes(deps: Deps) {
  return new Hono<AppEnv>()
    .get("/fleet/terms", requireRole("viewer"), (c) => show(c, deps, { whose: c.req.query("for") ?? "fleet" }))
    .post("/fleet/terms", requireRole("editor"), (c) => saveTerms(c, deps))
    .post("/fleet/logged", requireRole("editor"), (c) => saveLogged(c, deps))
    .post("/fleet/cooled", requireRole("editor"), (c) => addCooled(c, deps));
}

type Granted = Context<AppEnv & GrantedEnv>;

/** `POST /fleet/terms`: prices and years of the fleet, of a group or of a depot. */
async function saveTerms(c: Granted, deps: Deps) {
  const form = await formOf(c);
  const whose = form.get("for") ?? "fleet";
  const fields = typedFields(form, FIELDS);
  const { currency, mass_unit } = await moneyAndMass(c);
  const refusals = new Refusals();
  const terms = readTerms(fields, { currency, per_g: 1 / GRAMS_PER_UNIT[mass_unit] }, refusals);
  const errors = refusals.inOrder(FIELDS);
  if (errors.length > 0) return show(c, deps, { whose, fields, errors });
  const { scope, name } = scopeOf(whose);
  await c.var.store.fleetTerms.set(scope, name, terms);
  return c.redirect(`/fleet/terms?${new URLSearchParams({ for: whose, done: "saved" })}`, 303);
}

/** `POST /fleet/logged`: between which days every charge is in the records, or that nobody says so. */
async function saveLogged(c: Granted, deps: Deps) {
  const form = await formOf(c);
  const whose = form.get("for") ?? "fleet";
  const { store } = c.var;
  if (form.get("say") === "no") {
    await store.fleetTerms.setLogged(scopeOf(whose), null);
    return c.redirect(`/fleet/terms?${new URLSearchParams({ for: whose, done: "silent" })}`, 303);
  }
  const logged = typedFields(form, LOGGED_FIELDS);
  const read = readLogged(logged, dayContextOf(await store.settings.get(), deps.now()));
  if (!read.ok) return show(c, deps, { whose, logged, errors: read.errors });
  await store.fleetTerms.setLogged(scopeOf(whose), read.input);
  return c.redirect(`/fleet/terms?${new URLSearchParams({ for: whose, done: "logged" })}`, 303);
}

const LOGGED_FIELDS = ["from", "until", "missed"] as const;

/** Between which days every charge is logged (from the first entry on, where `from` is empty), and the share missed. */
function readLogged(
  typed: LoggedFields,
  context: DayContext,
): Read<{ from_date: string | null; until_date: string; missed: number }> {
  const refusals = new Refusals();
  const day = (name: "from" | "until") => {
    const read = readDay(typed[name], context);
    return "iso" in read ? read.iso : (refusals.refuse(name, read.message) ?? null);
  };
  const from_date = isEmpty(typed.from) ? null : day("from");
  const until_date = day("until");
  if (from_date !== null && until_date !== null && from_date > until_date)
    refusals.refuse("from", "The records begin after they end. Check both days");
  const { min, max, default: usual } = loggedParameters.missed;
  const percent = isEmpty(typed.missed) ? 100 * usual : readNumber(typed.missed.trim().replace(/%$/, "").trim());
  if (percent === undefined || percent < 100 * min || percent > 100 * max)
    refusals.refuse("missed", `Enter a percentage from ${100 * min} to ${100 * max}`);
  const errors = refusals.inOrder(LOGGED_FIELDS);
  if (errors.length > 0 || until_date === null || percent === undefined) return { ok: false, errors };
  return { ok: true, input: { from_date, until_date, missed: percent / 100 } };
}

/** `POST /fleet/cooled`: "cooled well" on one day, for every vehicle that has no entry since. */
async function addCooled(c: Granted, deps: Deps) {
  const form = await formOf(c);
  const whose = form.get("for") ?? "fleet";
  const { store } = c.var;
  const typed = form.get("date") ?? "today";
  const read = readDay(typed, dayContextOf(await store.settings.get(), deps.now()));
  if (!("iso" in read))
    return show(c, deps, { whose, cooled_on: typed, errors: [{ field: "date", message: read.message }] });
  const count = await recordCooled(store, scopeOf(whose), read.iso);
  const said = new URLSearchParams({ for: whose, done: "cooled", vehicles: String(count) });
  return c.redirect(`/fleet/terms?${said}`, 303);
}

/** Enters "cooled well" on a day (ISO 8601) for those of some vehicles that have no entry since; how many those are. */
export async function recordCooled(
  store: WorkspaceStore,
  whose: Parameters<WorkspaceStore["fleetTerms"]["quietSince"]>[0],
  date: string,
): Promise<number> {
  const quiet = await store.fleetTerms.quietSince(whose, date);
  await store.fleetImport.add(quiet.map((id) => ({ id, entries: [{ date, cooling: "ok" }] })));
  return quiet.length;
}

/** The currency of the prices, and the unit that refrigerant is priced by. */
async function moneyAndMass(c: Granted) {
  const { store } = c.var;
  const [workspace, books] = await Promise.all([store.settings.get(), store.priceBooks.own()]);
  const { currency } = moneyAndUnits(workspace, books);
  return { currency, mass_unit: workspace.mass_unit === "g" ? ("kg" as const) : ("lb" as const), workspace };
}

async function show(
  c: Granted,
  deps: Deps,
  shown: { whose: string } & Partial<Pick<TermsPageProps, "fields" | "logged" | "cooled_on" | "errors">>,
) {
  const { store, access } = c.var;
  const [{ currency, mass_unit, workspace }, said, choices, counts] = await Promise.all([
    moneyAndMass(c),
    store.fleetTerms.all(),
    store.fleet.choices(),
    store.fleetTerms.loggedCounts(),
  ]);
  const { scope, name } = scopeOf(shown.whose);
  const stored = said.find((one) => one.scope === scope && one.name === name)?.terms ?? {};
  const { errors = [] } = shown;
  const missed = plain(100 * (counts.missed ?? loggedParameters.missed.default));
  const props: TermsPageProps = {
    fields: termsFields(stored, 1 / GRAMS_PER_UNIT[mass_unit]),
    logged: { from: "", until: counts.latest ?? todayIn(workspace, deps.now()), missed },
    cooled_on: "today",
    ...shown,
    errors,
    said,
    groups: choices.groups,
    depots: choices.depots,
    counts,
    done: doneOf(c.req.query("done"), c.req.query("vehicles")),
    currency,
    mass_unit,
    may_edit: mayAct(access.role, "editor"),
    asset: deps.asset,
  };
  c.status(errors.length > 0 ? 422 : 200);
  return answerPage(c, TermsPage(props));
}

function doneOf(done: string | undefined, count: string | undefined): string | null {
  const anew = "Calculate the fleet again to see what it changes.";
  if (done === "saved") return `Saved. ${anew}`;
  if (done === "logged") return `Saved: no entry now means that it was not found low. ${anew}`;
  if (done === "silent") return `Saved: silence says nothing again. ${anew}`;
  if (done !== "cooled" || !/^\d{1,7}$/.test(count ?? "")) return null;
  return Number(count) === 0
    ? "Every one of them has an entry since that day already. Nothing was added."
    : `“Cooled well” added to ${vehicles(Number(count))}. ${anew}`;
}

/** `fleet`, `group:Vans`, `depot:North yard`. */
function scopeOf(whose: string): { scope: TermScope; name: string } {
  const [, scope, name] = /^(group|depot):(.+)$/s.exec(whose) ?? [];
  return scope === undefined ? { scope: "fleet", name: "" } : { scope: scope as TermScope, name: name! };
}

/** A number as one would type it. */
function plain(value: number): string {
  return String(Number(value.toPrecision(6)));
}

/** The fields of the terms, in the order of their form. */
const FIELDS = [
  "service",
  "keep_years",
  "climate",
  "place",
  "topoff_fee",
  "refrigerant",
  "repair_service",
  "locate_fee",
  "topoff_hours_lost",
  "repair_hours_lost",
  "hour_lost",
] as const satisfies readonly (keyof TermsFields)[];

function termsFields(terms: FleetTerms, per_g: number): TermsFields {
  const text = (value: number | null | undefined) => (value == null ? "" : plain(value));
  return {
    service: terms.service ?? "",
    keep_years: text(terms.keep_years),
    climate: terms.climate ?? "",
    place: terms.place ?? "",
    topoff_fee: text(terms.topoff_fee),
    refrigerant: text(
      terms.refrigerant_per_g == null ? null : Number((terms.refrigerant_per_g / per_g).toPrecision(6)),
    ),
    repair_service: text(terms.repair_service),
    locate_fee: text(terms.locate_fee),
    topoff_hours_lost: text(terms.topoff_hours_lost),
    repair_hours_lost: text(terms.repair_hours_lost),
    hour_lost: text(terms.hour_lost),
  };
}

/** What was typed, each within its bounds; what is empty is not said. */
function readTerms(
  fields: TermsFields,
  { currency, per_g }: { currency: string; per_g: number },
  { refuse }: Refusals,
): FleetTerms {
  const within = (
    name: keyof TermsFields,
    { min, max }: { min: number; max: number },
    read: (typed: string) => number | undefined,
    like: string,
  ): number | undefined => {
    const typed = fields[name];
    if (isEmpty(typed)) return undefined;
    const value = read(typed);
    if (value !== undefined && value >= min && value <= max) return value;
    return refuse(name, `Enter ${like}, from ${min} to ${pageNumber(max)}`);
  };
  const chosen = (name: "climate" | "place", ids: readonly string[]) => {
    const typed = fields[name];
    return typed === "" || ids.includes(typed) ? typed || undefined : refuse(name, "Choose one from the list");
  };
  const money = (name: keyof TermsFields, bounds: { min: number; max: number }) =>
    within(name, bounds, (typed) => readMoney(typed, currency), "an amount of money");
  const hours = (name: keyof TermsFields) => within(name, outageBounds.hours, readNumber, "hours");
  const refrigerant = money("refrigerant", {
    min: 0,
    max: Math.round(priceParameters.shop_refrigerant_per_g.max / per_g),
  });
  return {
    service: oneOf(SERVICES, fields.service),
    climate: chosen(
      "climate",
      CLIMATES.map(({ id }) => id),
    ),
    place: chosen("place", Object.keys(PLACES)),
    keep_years: within("keep_years", planParameters.keep_years, readNumber, "years"),
    topoff_fee: money("topoff_fee", priceParameters.shop_topoff_fee),
    refrigerant_per_g: refrigerant === undefined ? undefined : refrigerant * per_g,
    repair_service: money("repair_service", priceParameters.repair_service),
    locate_fee: money("locate_fee", priceParameters.locate_fee),
    topoff_hours_lost: hours("topoff_hours_lost"),
    repair_hours_lost: hours("repair_hours_lost"),
    hour_lost: money("hour_lost", outageBounds.an_hour),
    currency,
  };
}
