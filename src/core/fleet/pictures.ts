import { monthsAfter } from "../quantities/dates.ts";

/** What the pictures of a fleet draw: a bounded number of marks, whatever its size. */

/** Of a vehicle, what the pictures are made from. */
export interface PicturedVehicle {
  id: string;
  fleet_group: string | null;
  /** Of the nameplate charge, a year. */
  leak_share: number;
  /** Whether nothing is in its log. */
  no_entries: boolean;
  /** Topped off for ever, grams a year. */
  release_as_is_g: number;
  low_now: boolean;
  /** Null: not within 20 years. */
  next_low: string | null;
}

export interface FleetPictures {
  /** How many vehicles there are; `leaks` may hold fewer. */
  vehicles: number;
  /** By group, in the order of `groups`, each from its fastest leak down. */
  leaks: LeakMark[];
  /** The largest first; null holds those of no group, and of the many that have no row of their own. */
  groups: (string | null)[];
  ranks: ReleaseRank[];
  /** Of all of them, grams a year. */
  release_g: number;
  /** The fewest vehicles that release half of it. */
  half: number;
  /** Vehicles low now; in each month of the coming year; and later or never. */
  low: { now: number; months: { month: string; vehicles: number }[]; later: number };
  /** Those low now or by that day. */
  low_soon: { until: string; vehicles: number };
}

export interface LeakMark extends Pick<PicturedVehicle, "id" | "fleet_group" | "leak_share" | "no_entries"> {}

export interface ReleaseRank {
  /** From the vehicle that releases most down, from 1. */
  rank: number;
  id: string;
  release_g: number;
  /** What this vehicle and all before it release, of all release. */
  share: number;
}

/** Grams of a calendar year. */
export interface ReleaseYear {
  year: number;
  added_g: number;
  lost_g: number;
}

/** Groups that have a row of their own. */
const MOST_GROUPS = 12;
/** Marks of single vehicles, about. */
const MOST_MARKS = 240;
/** Of each group, its fastest leaks are always drawn. */
const FASTEST = 3;

/** The pictures of some vehicles as of `today`; those low by `soon` are counted. Days in ISO 8601. */
export function picturesOf(
  vehicles: readonly PicturedVehicle[],
  { today, soon }: { today: string; soon: string },
): FleetPictures {
  return {
    vehicles: vehicles.length,
    ...leakMarks(vehicles),
    ...releaseRanks(vehicles),
    low: lowByMonth(vehicles, today),
    low_soon: { until: soon, vehicles: vehicles.filter((one) => isLowBy(one, soon)).length },
  };
}

/** The days that begin this month and the eleven after it, and the one after those. */
export function monthsAhead(today: string): string[] {
  return Array.from({ length: 13 }, (_, i) => monthsAfter(`${today.slice(0, 7)}-01`, i));
}

function isLowBy({ low_now, next_low }: PicturedVehicle, day: string): boolean {
  return low_now || (next_low !== null && next_low <= day);
}

function lowByMonth(vehicles: readonly PicturedVehicle[], today: string): FleetPictures["low"] {
  const days = monthsAhead(today);
  const counts = new Map(days.slice(0, -1).map((day) => [day.slice(0, 7), 0]));
  let [now, later] = [0, 0];
  for (const one of vehicles) {
    const month = one.next_low?.slice(0, 7) ?? "";
    if (isLowBy(one, today)) now++;
    else if (counts.has(month)) counts.set(month, counts.get(month)! + 1);
    else later++;
  }
  return { now, months: Array.from(counts, ([month, count]) => ({ month, vehicles: count })), later };
}

function releaseRanks(vehicles: readonly PicturedVehicle[]): Pick<FleetPictures, "ranks" | "release_g" | "half"> {
  const ordered = vehicles.toSorted((a, b) => b.release_as_is_g - a.release_as_is_g || (a.id < b.id ? -1 : 1));
  const release_g = ordered.reduce((sum, one) => sum + one.release_as_is_g, 0);
  if (release_g <= 0) return { ranks: [], release_g: 0, half: 0 };
  const drawn = new Set(ranksDrawn(ordered.length));
  const ranks: ReleaseRank[] = [];
  let so_far = 0;
  let half = 0;
  ordered.forEach(({ id, release_as_is_g }, i) => {
    so_far += release_as_is_g;
    if (half === 0 && so_far >= release_g / 2) half = i + 1;
    if (drawn.has(i + 1)) ranks.push({ rank: i + 1, id, release_g: release_as_is_g, share: so_far / release_g });
  });
  return { ranks, release_g, half };
}

/** The first ten ranks of `count`, then ever further apart up to the last: about forty at most. */
function ranksDrawn(count: number): number[] {
  const ranks = Array.from({ length: Math.min(10, count) }, (_, i) => i + 1);
  const apart = Math.max(1.05, (count / 10) ** (1 / 30));
  for (let rank = 10; rank < count; ) {
    rank = Math.min(count, Math.max(rank + 1, Math.round(rank * apart)));
    ranks.push(rank);
  }
  return ranks;
}

function leakMarks(vehicles: readonly PicturedVehicle[]): Pick<FleetPictures, "leaks" | "groups"> {
  const by_group = [...Map.groupBy(vehicles, ({ fleet_group }) => fleet_group)]
    .filter(([group]) => group !== null)
    .sort(([a, members_a], [b, members_b]) => members_b.length - members_a.length || (a! < b! ? -1 : 1));
  const rows = new Map<string | null, PicturedVehicle[]>(by_group.slice(0, MOST_GROUPS));
  const others = vehicles.filter(({ fleet_group }) => fleet_group === null || !rows.has(fleet_group));
  if (others.length > 0) rows.set(null, others);
  const whole = vehicles.length <= MOST_MARKS + 60;
  const most = whole ? vehicles.length : Math.max(6, Math.floor(MOST_MARKS / rows.size));
  const leaks = [...rows].flatMap(([fleet_group, members]) =>
    sampled(
      members.toSorted((a, b) => b.leak_share - a.leak_share || (a.id < b.id ? -1 : 1)),
      most,
    ).map(({ id, leak_share, no_entries }) => ({ id, fleet_group, leak_share, no_entries })),
  );
  return { leaks, groups: [...rows.keys()] };
}

/** The first few, and of the rest as many as `most` leaves room for, evenly from the first to the last. */
function sampled<One>(ordered: readonly One[], most: number): One[] {
  if (ordered.length <= most) return [...ordered];
  const rest = ordered.slice(FASTEST);
  const drawn = most - FASTEST;
  return [
    ...ordered.slice(0, FASTEST),
    ...Array.from({ length: drawn }, (_, i) => rest[Math.round((i * (rest.length - 1)) / (drawn - 1))]!),
  ];
}
