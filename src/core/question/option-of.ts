import type { OptionId, Verdict } from "./contract.ts";

/** An answer, or a comparison, with its options. */
interface WithOptions<T> {
  options: readonly T[];
}

/** The option that `id` names; undefined where it was not compared, or where a verdict names none. */
export function optionOf<T extends { id: OptionId }>(
  { options }: WithOptions<T>,
  id: Verdict["option"],
): T | undefined {
  return options.find((option) => option.id === id);
}

/**
 * The same of an option that was compared, as repair, both tests and topping off always are; else throws RangeError.
 */
export function comparedOption<T extends { id: OptionId }>(answer: WithOptions<T>, id: OptionId): T {
  const option = optionOf(answer, id);
  if (option === undefined) throw new RangeError(`Not among the options compared: ${id}`);
  return option;
}
