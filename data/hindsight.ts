/** How past predictions are held against what came. Working assumptions of ours, no source, unless one is named. */
export const hindsight = {
  /**
   * Charges of so many years are predicted again, of one vehicle the first so many of them. Not the latest: a vehicle
   * that leaks fast would lose those that came early by surprise, and the rest would look better than they are.
   */
  years_back: 10,
  most_a_vehicle: 16,
  /** Recovered in a service where nobody said how it cooled: from this share of nameplate up it was not low. */
  not_low_share: 0.8,
  /** Less than this share of nameplate added where nobody said how it cooled: a trim, not a charge of a low system. */
  trim_share: 0.1,
  /** With fewer predictions that are known to be right or wrong, no share is said: Wilson's interval is then ± 0.14. */
  share_least: 20,
  /** With fewer charges that both can be held against, it is not said who came nearer. */
  compare_least: 10,
  /** The likely range: from this chance of having been low to that one. */
  from_chance: 0.05,
  to_chance: 0.95,
} as const;
