/** What a cylinder holds: bought new, reclaimed to the purity of new, or recovered from vehicles. */
export const CYLINDER_CONDITIONS = ["new", "reclaimed", "recovered"] as const;
export type CylinderCondition = (typeof CYLINDER_CONDITIONS)[number];

/** Moves that concern a cylinder alone: filled or delivered, sent away, or weighed. */
export const MOVE_KINDS = ["received", "returned", "weighed"] as const;
export type MoveKind = (typeof MOVE_KINDS)[number];

/** A change of what a cylinder holds. `weighed` gives what was in it, all others how much came or went. */
export interface CylinderMove {
  date: string;
  kind: MoveKind | "recovered" | "charged";
  amount_g: number;
}

/**
 * The mass balance of a cylinder over a time, in g: `opening + received + recovered − charged − returned + adjusted =
 * closing`. `adjusted` is what weighing found more (under 0: less) than the book said: losses, hoses, slips.
 */
export interface MassBalance {
  opening_g: number;
  received_g: number;
  recovered_g: number;
  charged_g: number;
  returned_g: number;
  adjusted_g: number;
  closing_g: number;
}

/** Order of moves within a day; weighing comes after the day's work. */
const ORDER: Readonly<Record<CylinderMove["kind"], number>> = {
  received: 0,
  recovered: 1,
  charged: 2,
  returned: 3,
  weighed: 4,
};

/** What is in a cylinder after all its moves, grams; negative where more was charged from it than it held. */
export function stockOf(moves: readonly CylinderMove[]): number {
  return balanceBetween(moves, "0000-01-01", "9999-12-31").closing_g;
}

/** The balance of a calendar year. */
export function balanceOfYear(moves: readonly CylinderMove[], year: number): MassBalance {
  return balanceBetween(moves, `${year}-01-01`, `${year}-12-31`);
}

function balanceBetween(moves: readonly CylinderMove[], first: string, last: string): MassBalance {
  const in_order = moves.toSorted((a, b) =>
    a.date === b.date ? ORDER[a.kind] - ORDER[b.kind] : a.date < b.date ? -1 : 1,
  );
  const sums = { received_g: 0, recovered_g: 0, charged_g: 0, returned_g: 0, adjusted_g: 0 };
  let opening_g = 0;
  let stock_g = 0;
  for (const { date, kind, amount_g } of in_order) {
    if (date > last) break;
    const change_g =
      kind === "weighed" ? amount_g - stock_g : kind === "charged" || kind === "returned" ? -amount_g : amount_g;
    stock_g += change_g;
    if (date < first) opening_g = stock_g;
    else if (kind === "weighed") sums.adjusted_g += change_g;
    else sums[`${kind}_g`] += amount_g;
  }
  return { opening_g, ...sums, closing_g: stock_g };
}
