import type { ClockReading } from "./leak-clock.ts";

/** Discounting and survival over the horizon. */
export interface Horizon {
  /** How far ahead, years. */
  years: number;
  /** r + h: discount rate and hazard together. */
  fade: number;
  /** Yearly chance that something else ends the vehicle's life; continuous. */
  hazard: number;
  /** Growth of the price of refrigerant, per year, continuous. */
  growth: number;
}

/** Clock values at t = j/12, j = 0..⌈12H⌉; linear between. */
export interface MonthTable {
  /** Last index; the table may reach past H. */
  last: number;
  /** Season-adjusted time S. */
  season: Float64Array;
  /** Leak clock c by growth index, and the same weighted with survival (R). */
  clock: Float64Array[];
  surviving: Float64Array[];
}

/** Clock tables to the horizon for each growth clock given. */
export function monthTable(
  season: ClockReading,
  clocks: readonly ClockReading[],
  horizon: Pick<Horizon, "years" | "hazard">,
): MonthTable {
  const last = Math.ceil(12 * horizon.years);
  const at = (reading: ClockReading): Float64Array =>
    Float64Array.from({ length: last + 1 }, (_, j) => reading(j / 12));
  const survival = Float64Array.from({ length: last }, (_, j) => Math.exp((-horizon.hazard * (2 * j + 1)) / 24));
  const clock = clocks.map(at);
  const surviving = clock.map((c) => {
    const sum = new Float64Array(last + 1);
    for (let j = 1; j <= last; j++) sum[j] = sum[j - 1]! + (c[j]! - c[j - 1]!) * survival[j - 1]!;
    return sum;
  });
  return { last, season: at(season), clock, surviving };
}

/** A table of the first `years` of another, which share its memory. */
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

/** The month, from `first` on, in which a clock table reaches `due`; months without leaking are passed over. */
export function monthReaching(clock: Float64Array, due: number, first: number, last: number): number {
  let j = first;
  while (j < last && clock[j + 1]! < due) j++;
  return j;
}

/** What part of month `j` has passed when a clock table reaches `due` in it. */
export function partReaching(clock: Float64Array, due: number, j: number): number {
  const rise = clock[j + 1]! - clock[j]!;
  return rise > 0 ? (due - clock[j]!) / rise : 0;
}

/** First time, years, at which a clock table reaches `due`; the table must reach it. */
export function clockTime(clock: Float64Array, due: number): number {
  const j = monthReaching(clock, due, 0, clock.length - 2);
  return (j + partReaching(clock, due, j)) / 12;
}
