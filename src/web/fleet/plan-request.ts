import { shopTime } from "../../../data/model-constants.ts";
import { PAGE_FORMAT } from "../../../data/number-formats.ts";
import type { PlanFields } from "../../../views/fleet/plan-form.tsx";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { BUDGET_AIMS } from "../../core/fleet/budget.ts";
import { type PlanTerms, planBounds } from "../../core/fleet/year-plan.ts";
import { mainUnits, parseAmount, withoutSymbol } from "../../core/quantities/money.ts";
import { LONGEST_TEXT, type Unreadable, unreadable } from "../../core/quantities/typed-number.ts";
import { Refusals } from "../forms/form-reading.ts";
import { isEmpty, oneOf, readNumber } from "../forms/typed-values.ts";

/** What a person asks of a year's plan, in an address or a form. */

/** The fields as they were typed; `this_year` where no year is said. */
export function planFields(said: URLSearchParams, depots: readonly string[], this_year: number): PlanFields {
  const of = (name: string) => said.get(name) ?? "";
  return {
    budget: of("budget"),
    aim: oneOf(BUDGET_AIMS, said.get("aim")) ?? "cost",
    year: of("year") === String(this_year + 1) ? this_year + 1 : this_year,
    shop: of("shop"),
    per: of("per") === "hours" ? "hours" : "jobs",
    repair_hours: said.get("repair_hours") ?? String(shopTime.repair_hours),
    test_hours: said.get("test_hours") ?? String(shopTime.test_hours),
    depots: depots.map((depot) => ({ depot, money: of(`money.${depot}`), work: of(`work.${depot}`) })),
  };
}

/** The fields as the form names them, without the empty ones. */
export function planQuery(fields: PlanFields): URLSearchParams {
  const { depots, year, per, ...plain } = fields;
  const query = new URLSearchParams({ budget: plain.budget, aim: plain.aim, year: String(year) });
  if (!isEmpty(plain.shop) || depots.some(({ work }) => !isEmpty(work))) {
    query.set("per", per);
    if (!isEmpty(plain.shop)) query.set("shop", plain.shop);
    query.set("repair_hours", plain.repair_hours);
    query.set("test_hours", plain.test_hours);
  }
  for (const { depot, money, work } of depots) {
    if (!isEmpty(money)) query.set(`money.${depot}`, money);
    if (!isEmpty(work)) query.set(`work.${depot}`, work);
  }
  return query;
}

/** The fields of a plan that is kept. */
export function fieldsOf(terms: PlanTerms, depots: readonly string[]): PlanFields {
  const { shop } = terms;
  const own = new Map(terms.depots.map((one) => [one.depot, one]));
  const text = (value: number | null | undefined) => (value == null ? "" : String(value));
  return {
    budget: text(terms.budget),
    aim: terms.aim,
    year: terms.year,
    shop: text(shop?.a_month),
    per: shop?.unit ?? "jobs",
    repair_hours: text(shop?.repair_hours ?? shopTime.repair_hours),
    test_hours: text(shop?.test_hours ?? shopTime.test_hours),
    depots: [...new Set([...depots, ...own.keys()])].map((depot) => ({
      depot,
      money: text(own.get(depot)?.money),
      work: text(own.get(depot)?.a_month),
    })),
  };
}

/** The terms; null where no money is said yet, with an error for each field that cannot be read. */
export function readPlanTerms(fields: PlanFields, currency: string): { terms: PlanTerms | null; errors: FieldError[] } {
  const refusals = new Refusals();
  const money = (field: string, typed: string): number | null => {
    if (isEmpty(typed)) return null;
    const read = typedSum(typed, currency);
    return typeof read === "number" ? read : (refusals.refuse(field, read.message) ?? null);
  };
  const count = (field: string, typed: string, most: number, what: string): number | null => {
    if (isEmpty(typed)) return null;
    const read = readNumber(typed);
    if (read !== undefined && read > 0 && read <= most) return read;
    return refusals.refuse(field, `Enter ${what}, like 8`) ?? null;
  };
  const budget = money("budget", fields.budget);
  const a_month = count(
    "shop",
    fields.shop,
    planBounds.a_month,
    `the ${fields.per} that the shop has time for in a month`,
  );
  const repair_hours = count("repair_hours", fields.repair_hours, planBounds.hours, "the hours of a repair");
  const test_hours = count("test_hours", fields.test_hours, planBounds.hours, "the hours of a test");
  const depots = fields.depots.flatMap(({ depot, money: typed, work }) => {
    const own = money(`money.${depot}`, typed);
    const its_month = count(`work.${depot}`, work, planBounds.a_month, `the ${fields.per} a month at ${depot}`);
    if (own === null && !isEmpty(work) && isEmpty(typed))
      refusals.refuse(`money.${depot}`, `Enter the money for ${depot}: a depot with its own shop has its own money`);
    return own === null ? [] : [{ depot, money: own, a_month: its_month }];
  });
  const apart = depots.reduce((sum, one) => sum + one.money, 0);
  if (budget !== null && apart > budget)
    refusals.refuse("budget", "The depots' own money comes to more than the money for the whole year");
  const fields_in_order = [
    "budget",
    "shop",
    "repair_hours",
    "test_hours",
    ...fields.depots.flatMap(({ depot }) => [`money.${depot}`, `work.${depot}`]),
  ];
  const errors = refusals.inOrder(fields_in_order);
  if (budget === null || errors.length > 0) return { terms: null, errors };
  const hours = { repair_hours: repair_hours ?? shopTime.repair_hours, test_hours: test_hours ?? shopTime.test_hours };
  const counted = a_month !== null || depots.some((one) => one.a_month !== null);
  return {
    terms: {
      year: fields.year,
      budget,
      aim: fields.aim,
      shop: counted ? { unit: fields.per, a_month, ...hours } : null,
      depots,
    },
    errors,
  };
}

const SUM_WANTED = "Enter an amount of money, like 25000 or 25k";

/**
 * A sum as people type it: `25000`, `$25,000`, `25k`, `1.5 million`, `2e4`. What can mean two things, like `50.000`, is
 * asked about.
 */
export function typedSum(typed: string, currency: string): number | Unreadable {
  if (typed.length > LONGEST_TEXT) return unreadable(SUM_WANTED);
  const plain = withoutSymbol(typed, currency).replace(/\s+/g, " ");
  if (/^[-−–]/.test(plain)) return unreadable("Enter 0 or more, like 25000 or 25k");
  const [, figures = plain, tail = ""] = /^(.*\d)[ ]?(k|thousand|m|mio|million|e\d)$/i.exec(plain) ?? [];
  const factor = factorOf(tail.toLowerCase());
  if (tail === "" && /^\d{1,3}\.\d{3}$/.test(figures)) {
    const [whole, part] = figures.split(".");
    return unreadable(`${figures} may be ${whole} or ${whole},${part}. Enter it as ${whole} or ${whole}${part}`);
  }
  const amount = parseAmount(figures, currency, PAGE_FORMAT);
  if (!amount.ok) return unreadable(SUM_WANTED);
  const money = mainUnits(amount.scaled, currency) * factor;
  return money <= planBounds.money ? money : unreadable("That is too large. Check the number");
}

function factorOf(tail: string): number {
  if (tail === "") return 1;
  if (tail.startsWith("e")) return 10 ** Number(tail.slice(1));
  return tail.startsWith("k") || tail === "thousand" ? 1e3 : 1e6;
}
