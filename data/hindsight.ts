/** How past predictions are held against what came. Working assumptions of ours, no source, unless one is named. */
export const hindsight = {
  /**
   * Only charges of the last `years_back` years are predicted again, and of one vehicle the first `most_a_vehicle` of
   * them. The latest instead would leave out charges that came early by surprise on fast leaks, and make the rest look
   * better than they are.
   */
  years_back: 10,
  most_a_vehicle: 16,
  /** Recovered in a service where nobody said how it cooled: from this share of nameplate up it was not low. */
  not_low_share: 0.8,
  /** Less than this share of nameplate added where nobody said how it cooled: a trim, not a charge of a low system. */
  trim_share: 0.1,
  /** With fewer predictions that are known to be right or wrong, no share is said: Wilson's interval is then ± 0.14. */
  share_least: 20,
  /** With fewer charges to compare the model and the simple rule on, it is not said which came nearer. */
  compare_least: 10,
  /** The likely range: from this chance of having been low to that one. */
  from_chance: 0.05,
  to_chance: 0.95,
} as const;
