import { Conflict } from "../../store/errors.ts";

/**
 * What a change of the store leads to, or the `Conflict` where someone else made theirs first. The store tells what is
 * there now in the shape in which it answers; `Current` names it where a change answers with more.
 *
 * @example
 * const saved = await unlessOvertaken(store.settings.update(settings, version, key));
 * if (saved instanceof Conflict) return answer(c, 409, saved.current);
 */
export async function unlessOvertaken<Stored, Current = Stored>(
  change: Promise<Stored>,
): Promise<Stored | Conflict<Current>> {
  try {
    return await change;
  } catch (error) {
    if (error instanceof Conflict) return error;
    throw error;
  }
}
