/** Counts of what an import adds and of what exists already. */
export interface ImportCounts {
  vehicles_added: number;
  vehicles_known: number;
  entries_added: number;
  entries_known: number;
  entries_corrected: number;
  vehicles_changed: number;
}
