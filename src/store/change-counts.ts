/** Number of counters, which bounds the memory. With more workspaces some share one, and may look changed when not. */
const COUNTS = 4096;

/** How often the records of each workspace were changed since this process began. */
export class ChangeCounts {
  readonly #counts = new Float64Array(COUNTS);

  #of_all = 0;

  countForAll(): void {
    this.#of_all += 1;
  }

  count(workspace_id: string): void {
    this.#counts[placeOf(workspace_id)]! += 1;
  }

  of(workspace_id: string): number {
    return this.#of_all + this.#counts[placeOf(workspace_id)]!;
  }
}

function placeOf(workspace_id: string): number {
  let place = 0;
  for (let i = 0; i < workspace_id.length; i++) place = (place * 31 + workspace_id.charCodeAt(i)) % COUNTS;
  return place;
}
