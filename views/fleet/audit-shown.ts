import type { LeakThreshold } from "../../data/leak-thresholds.ts";
import { type AuditSum, lossInterval } from "../../src/core/fleet/audit.ts";
import type { ClosedYear, Correction } from "../../src/core/fleet/closing.ts";
import type { AuditRow } from "../../src/core/fleet/row.ts";
import { pageNumber } from "../../src/core/quantities/number-text.ts";
import type { AssetUrl } from "../assets.ts";

/** What the audit of a year shows, and how its amounts are said. */

/** Several vehicles together. */
export interface AuditTotal extends AuditSum {
  name: string;
  vehicles: number;
  nameplate_g: number;
  lost_co2e_kg: number;
  net_co2e_kg: number;
}

/** A vehicle with a large charge, held against the rule for such. */
export interface Flagged {
  row: AuditRow;
  rule: LeakThreshold;
}

export interface AuditPageProps {
  year: number;
  years: readonly number[];
  /** Whether the year is not over. */
  partial: boolean;
  rows: readonly AuditRow[];
  page: number;
  pages: number;
  total: AuditTotal;
  by: readonly { name: string; sums: readonly AuditTotal[] }[];
  /** Vehicles in use without an entry up to then. */
  without_record: number;
  flagged: readonly Flagged[];
  rules: readonly LeakThreshold[];
  /** The closing that stands, and all of this year, the latest first. */
  closed: ClosedYear | null;
  closings: readonly ClosedYear[];
  /** For a closed year: its sums as calculated now, and the vehicles whose records changed since. */
  now: AuditTotal | null;
  corrections: readonly Correction[];
  model_version: string;
  gwp_name: string;
  gwp_source: string;
  overtaken: boolean;
  address: (page: number) => string;
  csv: string;
  may_edit: boolean;
  asset: AssetUrl;
}

/** Kilograms as an auditor reads them: to the gram below a kilogram, to 10 g below 100 kg. */
export function kg(grams: number): string {
  const size = Math.abs(grams) / 1000;
  const digits = size >= 100 ? 1 : size >= 1 ? 2 : 3;
  return `${grams < 0 ? "−" : ""}${pageNumber(Number(size.toFixed(digits)))}\u00a0kg`;
}

/** An estimate, no finer than it is known. */
export function estimatedKg(grams: number): string {
  return `${pageNumber(Number((grams / 1000).toPrecision(3)))}\u00a0kg`;
}

/** The likely range of what was lost, in words. */
export function span({ lost_g, lost_sd_g }: Pick<AuditSum, "lost_g" | "lost_sd_g">): string {
  const { p05_g, p95_g } = lossInterval(lost_g, lost_sd_g);
  return `${estimatedKg(p05_g)} to ${estimatedKg(p95_g)}`;
}
