/**
 * How long something lasts, where not all of it was followed to its end: the product-limit estimate of Kaplan and
 * Meier, J. Am. Stat. Assoc. 53 (1958), with the variance of Greenwood (1926).
 */

/** One that was followed until `at`, on any scale from 0 up; whether it ended then, or was only followed so far. */
export interface Followed {
  at: number;
  ended: boolean;
}

/** What is known where some ended: just after `at`. */
export interface SurvivalStep {
  at: number;
  /** Followed until then or longer. */
  at_risk: number;
  ended: number;
  /** Estimated share that lasts longer than `at`. */
  lasting: number;
  /** Greenwood's sum up to here: the variance of `lasting` over its square; infinite where nothing lasts longer. */
  relative_variance: number;
}

/**
 * The steps, from the earliest on. Of those that stopped at one time, the ones that ended count before the others.
 *
 * @internal Called from outside by tests alone.
 */
export function kaplanMeier(followed: readonly Followed[]): SurvivalStep[] {
  const ordered = followed.toSorted((a, b) => a.at - b.at);
  const steps: SurvivalStep[] = [];
  let lasting = 1;
  let relative_variance = 0;
  for (let i = 0; i < ordered.length; ) {
    const { at } = ordered[i]!;
    const at_risk = ordered.length - i;
    let ended = 0;
    for (; i < ordered.length && ordered[i]!.at === at; i++) if (ordered[i]!.ended) ended++;
    if (ended === 0) continue;
    lasting *= 1 - ended / at_risk;
    relative_variance += ended / (at_risk * (at_risk - ended));
    steps.push({ at, at_risk, ended, lasting, relative_variance });
  }
  return steps;
}

/** A share, and between which values it lies in 95 of 100 such cases. */
export interface KnownShare {
  share: number;
  low: number;
  high: number;
}

/**
 * The share that ends from `from` to `to`, both counted in; null where nobody was followed as far as `to`, unless all
 * that were had ended before. Its interval is Wilson's with the effective number of cases p(1 − p)/variance, as
 * Rothman, J. Chronic Dis. 31 (1978) has it for survival; where none or all ended there, with the number of those of
 * whom it is known.
 */
export function shareEnding(followed: readonly Followed[], from: number, to: number): KnownShare | null {
  const known = followed.filter(({ at, ended }) => ended || at > to).length;
  const furthest = Math.max(...followed.map(({ at }) => at));
  const steps = kaplanMeier(followed);
  const before = steps.findLast(({ at }) => at < from);
  const after = steps.findLast(({ at }) => at <= to);
  if (known === 0 || (furthest <= to && (after === undefined || after.lasting > 0))) return null;
  const still_then = before?.lasting ?? 1;
  const lasting = after?.lasting ?? 1;
  const share = still_then - lasting;
  const onwards = lasting / still_then;
  // The two parts of the product are nearly independent (Greenwood): those still there at `from`, and of them the rest.
  const first_variance = still_then ** 2 * (before?.relative_variance ?? 0);
  const onwards_variance =
    onwards === 0 ? 0 : onwards ** 2 * ((after?.relative_variance ?? 0) - (before?.relative_variance ?? 0));
  const variance = (1 - onwards) ** 2 * first_variance + still_then ** 2 * onwards_variance;
  const cases = variance > 0 ? Math.min(followed.length, (share * (1 - share)) / variance) : known;
  return { share, ...wilsonInterval(share, cases) };
}

/** z of a two-sided interval of 95 %. */
const Z = 1.959964;

/**
 * The 95 % interval of a share that was found in `cases` cases: Wilson, J. Am. Stat. Assoc. 22 (1927).
 *
 * @internal Called from outside by tests alone.
 */
export function wilsonInterval(share: number, cases: number): { low: number; high: number } {
  const middle = (share + (Z * Z) / (2 * cases)) / (1 + (Z * Z) / cases);
  const half = (Z * Math.sqrt((share * (1 - share)) / cases + (Z * Z) / (4 * cases * cases))) / (1 + (Z * Z) / cases);
  return { low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
}
