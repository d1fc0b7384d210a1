import type { ClockReading } from "./leak-clock.ts";

/** How far ahead costs and releases count, and how they fade. */
export interface Horizon {
  /** End of the horizon H, years. */
  years: number;
  /** Discount rate and hazard together, r + h, per year, continuous. */
  fade: number;
  /** Rate h at which something else ends the vehicle's life, per year, continuous. */
  hazard: number;
  /** Growth of the price of refrigerant, per year, continuous. */
  growth: number;
}

/** Clock values at the ends of months, t = j/12 for j from 0 to ⌈12H⌉; linear between them. */
export interface MonthTable {
  /** Index of the last month end, which may lie after H. */
  last: number;
  /** Season-adjusted time S, years. */
  season: Float64Array;
  /** Leak clock c, years, for each growth. */
  clock: Float64Array[];
  /** Leak clock weighted with survival, R = ∫ e^{−ht} dc, years, for each growth. */
  surviving: Float64Array[];
}

/** The month table up to a horizon, with a clock for each growth. */
export function monthTable(
  season: ClockReading,
  clocks: readonly ClockReading[],
  horizon: Pick<Horizon, "years" | "hazard">,
): MonthTable {
  const last = Math.ceil(12 * horizon.years);
  const survival = new Float64Array(last);
  for (let j = 0; j < last; j++) survival[j] = Math.exp((-horizon.hazard * (2 * j + 1)) / 24);
  const clock = clocks.map((reading) => monthlyOf(reading, last));
  const surviving = clock.map((c) => survivingOf(c, survival));
  return { last, season: monthlyOf(season, last), clock, surviving };
}

/** Readings at the ends of months; a plain loop: `from` with a function takes many times as long. */
function monthlyOf(reading: ClockReading, last: number): Float64Array {
  const values = new Float64Array(last + 1);
  for (let j = 0; j <= last; j++) values[j] = reading(j / 12);
  return values;
}

/** A clock weighted with the survival of each month. */
function survivingOf(clock: Float64Array, survival: Float64Array): Float64Array {
  const sum = new Float64Array(clock.length);
  for (let j = 1; j < clock.length; j++) sum[j] = sum[j - 1]! + (clock[j]! - clock[j - 1]!) * survival[j - 1]!;
  return sum;
}

/** The first `years` of a table, as views on its memory. */
export function firstYears({ last, season, clock, surviving }: MonthTable, years: number): MonthTable {
  const shorter = Math.ceil(12 * years);
  const cut = (values: Float64Array): Float64Array => values.subarray(0, shorter + 1);
  return shorter === last
    ? { last, season, clock, surviving }
    : { last: shorter, season: cut(season), clock: clock.map(cut), surviving: surviving.map(cut) };
}

/** A table's value at `t` years, linear between months. */
export function tableAt(table: Float64Array, t: number): number {
  const month = 12 * t;
  const j = Math.min(Math.floor(month), table.length - 2);
  return table[j]! + (table[j + 1]! - table[j]!) * (month - j);
}

/** Index of the month, not before `first`, in which a clock table reaches `due`; `last` where it does not. */
function monthReaching(clock: Float64Array, due: number, first: number, last: number): number {
  let j = first;
  while (j < last && clock[j + 1]! < due) j++;
  return j;
}

/** Share of month `j`, 0–1, that has passed when a clock table reaches `due` in it. */
function partReaching(clock: Float64Array, due: number, j: number): number {
  const rise = clock[j + 1]! - clock[j]!;
  return rise > 0 ? (due - clock[j]!) / rise : 0;
}

/** First time, years, at which a clock table reaches `due`; the table must reach it. */
export function clockTime(clock: Float64Array, due: number): number {
  const j = monthReaching(clock, due, 0, clock.length - 2);
  return (j + partReaching(clock, due, j)) / 12;
}
