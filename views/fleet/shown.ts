import { formatMoney } from "../../src/core/quantities/format.ts";
import { pageNumber } from "../../src/core/quantities/number-text.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { PricesUsed } from "../parts/prices-used.tsx";
import { estimated, saidCo2e } from "../words/numbers.ts";

/** How the fleet pages say things. */

/** How a workspace wants things said, and whose prices its money was worked out with. */
export interface MoneyAndUnits {
  units: UnitSystem;
  currency: string;
  prices: PricesUsed;
}

/** An estimate of money: `$390`. */
export function saidSum(amount: number, { currency }: MoneyAndUnits): string {
  return formatMoney(estimated(amount), currency);
}

/** Money of many vehicles together, rounded to three figures. */
export function saidTotal(amount: number, { currency }: MoneyAndUnits): string {
  return formatMoney(Number(amount.toPrecision(3)), currency);
}

/** Many vehicles' CO₂e together: in tonnes from one tonne up, no finer than a kilogram. */
export function saidTotalCo2e(kg: number): string {
  if (kg > 0 && kg < 1) return "under 1\u00a0kg";
  return Math.abs(kg) < 1000 ? saidCo2e(kg) : `${pageNumber(Number((kg / 1000).toPrecision(2)))}\u00a0t`;
}

/** CO₂e that a choice avoids, in tonnes from one up; what it adds has a minus. */
export function saidAvoided(kg: number): string {
  if (Math.abs(kg) < 0.5) return saidCo2e(0);
  return `${kg < 0 ? "−" : ""}${saidTotalCo2e(Math.abs(kg))}`;
}

/** A share of a charge, which a fast leak loses more than once: `4.5%`, `62%`, `290%`. */
export function saidShare(share: number): string {
  const percent = 100 * share;
  return `${pageNumber(percent < 10 ? Number(percent.toPrecision(2)) : Math.round(percent))}%`;
}

/** `10,000`. */
export function saidNumber(count: number): string {
  return pageNumber(count);
}

/** `1 vehicle`, `10,000 vehicles`. */
export function vehicles(count: number): string {
  return `${saidNumber(count)} ${count === 1 ? "vehicle" : "vehicles"}`;
}

/** The same of rows of a file. */
export function fileRows(count: number): string {
  return `${saidNumber(count)} ${count === 1 ? "row" : "rows"}`;
}

/** The same of entries in a log. */
export function logEntries(count: number): string {
  return `${saidNumber(count)} ${count === 1 ? "entry" : "entries"}`;
}
