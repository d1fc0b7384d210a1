import * as z from "zod";
import type { ImportReport } from "../../../../views/fleet/import-shown.ts";
import { noCounts } from "../../../store/fleet-import-plan.ts";

const count = z.int().min(0).catch(0);
const word = z.string().catch("");
const listOf = <Shape extends z.ZodType>(shape: Shape) => z.array(shape).catch([]);
const cells = listOf(z.object({ label: word, cell: word, what: word }));
const rows = listOf(z.object({ file: count, row: count, said: cells }));

const kept = z.object({
  files: listOf(z.object({ name: word, rows: count, refused: count, not_taken: listOf(z.string()) })),
  entries_read: count,
  good: count,
  mended: count,
  refused: count,
  from_text: count,
  doubted: count,
  changes: count,
  asides: count,
  repeated: count,
  refused_rows: rows,
  mended_rows: rows,
  from_text_rows: rows,
  doubted_rows: rows,
  change_rows: listOf(z.object({ vehicle: word, what: word, from: word, to: word, here: z.boolean().catch(false) })),
  aside_rows: listOf(z.object({ file: count, row: count, why: z.enum(["totals", "text"]).catch("text"), text: word })),
  samples: listOf(
    z.object({ file: count, row: count, vehicle: word, about: z.string().optional(), date: word, said: word }),
  ),
  corrections: listOf(z.object({ vehicle: word, order: word, from: word, to: word })),
  counts: z
    .object({
      vehicles_added: count,
      vehicles_known: count,
      entries_added: count,
      entries_known: count,
      entries_corrected: count,
      vehicles_changed: count,
    })
    .catch(noCounts),
});

/** A report as it was kept, or came with an exported workspace: what is not there, or is something else, is nothing. */
export function keptReport(report: unknown): ImportReport {
  return kept.parse(report);
}

const undone = z.object({
  entries_removed: count,
  entries_restored: count,
  vehicles_removed: count,
  vehicles_restored: count,
  entries_kept: count,
  vehicles_kept: count,
});

/** The same for what was taken back of an import. */
export function keptUndone(what: unknown): z.infer<typeof undone> {
  return undone.parse(what);
}
