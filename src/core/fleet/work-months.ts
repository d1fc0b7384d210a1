/** The shop's time: how much of it a job takes, and in which month of the year each job gets its turn. */

/** Jobs or hours a month; `repair_hours` and `test_hours` are for a shop that counts hours. */
export interface Shop {
  unit: "jobs" | "hours";
  /** Null: time for all. */
  a_month: number | null;
  repair_hours: number;
  test_hours: number;
}

/** What a job takes of the shop's time: a test keeps room for the repair that may follow. */
export function workOf({ unit, repair_hours, test_hours }: Omit<Shop, "a_month">, option: string): number {
  if (unit === "jobs") return 1;
  return option === "repair" ? repair_hours : test_hours + repair_hours;
}

/** The months of `year` that are not over on `today`, as `2027-03`; none of a year that is over. */
export function monthsLeft(year: number, today: string): string[] {
  return Array.from({ length: 12 }, (_, m) => `${year}-${String(m + 1).padStart(2, "0")}`).filter(
    (month) => month >= today.slice(0, 7),
  );
}

/**
 * The month of each job, in the order of `jobs`: those that run low first come first, a month takes what the shop has
 * time for, and a job that is begun at the end of a month may run into the next. `taken` is time that is promised
 * already, by month. Without a limit all are for the first month. Jobs that find no month get the last.
 */
export function monthsOf(
  jobs: readonly { low: string | null; work: number }[],
  months: readonly string[],
  a_month: number | null,
  taken: ReadonlyMap<string, number> = new Map(),
): string[] {
  const [first] = months;
  if (first === undefined) throw new RangeError("No month to work in");
  const result: string[] = Array.from({ length: jobs.length }, () => first);
  if (a_month === null) return result;
  const room = months.map((month) => a_month - (taken.get(month) ?? 0));
  const by_urgency = Array.from(jobs.keys()).sort((a, b) => {
    const [low_a, low_b] = [jobs[a]!.low ?? "9999", jobs[b]!.low ?? "9999"];
    return low_a < low_b ? -1 : low_a > low_b ? 1 : a - b;
  });
  let m = 0;
  for (const job of by_urgency) {
    while (m < months.length - 1 && room[m]! <= 1e-9) {
      // What the last job took beyond its month is missing in the next.
      room[m + 1]! += Math.min(0, room[m]!);
      m++;
    }
    result[job] = months[m]!;
    room[m]! -= jobs[job]!.work;
  }
  return result;
}
