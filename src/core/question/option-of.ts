import type { OptionId, Verdict } from "./contract.ts";

/** An answer or a comparison. */
interface WithOptions<T> {
  /** The options compared. */
  options: readonly T[];
}

/** The option with `id`; undefined where it was not compared, or where the verdict is no option. */
export function optionOf<T extends { id: OptionId }>(
  { options }: WithOptions<T>,
  id: Verdict["option"],
): T | undefined {
  return options.find((option) => option.id === id);
}

/**
 * The option with `id`, which must have been compared, as repair, both tests and topping off always are; else throws
 * RangeError.
 */
export function comparedOption<T extends { id: OptionId }>(answer: WithOptions<T>, id: OptionId): T {
  const option = optionOf(answer, id);
  if (option === undefined) throw new RangeError(`Not among the options compared: ${id}`);
  return option;
}
