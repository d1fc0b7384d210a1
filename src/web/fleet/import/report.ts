import type { ImportReport, ShownRow } from "../../../../views/fleet/import-shown.ts";
import type { ImportCounts } from "../../../core/fleet/import-counts.ts";
import { formatMass } from "../../../core/quantities/format.ts";
import type { ChargeEntryInput } from "../../../core/question/record.ts";
import type { Correction } from "../../../store/imported-vehicle.ts";
import type { FleetReading, MendedRow, RefusedRow } from "./reading-shapes.ts";
import { fieldLabel } from "./rows.ts";

/** What the page says of a reading; it is kept with the import. */

/** Rows of each kind in the report. */
const ROWS_SHOWN = 200;

/** The report on an import, from what was read and what was written. */
export function reportOf(
  reading: FleetReading,
  { counts, corrections }: { counts: ImportCounts; corrections: readonly Correction[] },
): ImportReport {
  const { files, good, mended, refused, repeated, from_text, doubted, changes, asides } = reading;
  return {
    files: files.map(({ name, rows, not_taken }, file) => ({
      name,
      rows,
      not_taken,
      refused: refused.filter((row) => row.file === file).length,
    })),
    entries_read: reading.vehicles.reduce((sum, { entries }) => sum + entries.length, 0),
    good,
    mended: mended.length,
    refused: refused.length,
    from_text: from_text.length,
    doubted: doubted.length,
    changes: changes.length,
    asides: asides.length,
    repeated,
    refused_rows: refused.slice(0, ROWS_SHOWN).map(refusedRow),
    mended_rows: mended.slice(0, ROWS_SHOWN).map(mendedRow),
    from_text_rows: from_text.slice(0, ROWS_SHOWN).map(mendedRow),
    doubted_rows: doubted.slice(0, ROWS_SHOWN).map(mendedRow),
    change_rows: changes.slice(0, ROWS_SHOWN).map(({ label, field, from, to, here }) => ({
      vehicle: label,
      what: fieldLabel(field),
      from,
      to,
      here,
    })),
    aside_rows: asides.slice(0, ROWS_SHOWN),
    samples: reading.samples.map(({ file, row, vehicle, about, entry }) => ({
      file,
      row,
      vehicle,
      about,
      date: entry?.date ?? "",
      said: entry === null ? "" : saidEntry(entry),
    })),
    corrections: corrections.map(({ label, order, here, file }) => ({
      vehicle: label,
      order,
      ...difference(here, file),
    })),
    counts,
  };
}

function refusedRow({ file, row, faults }: RefusedRow): ShownRow {
  return { file, row, said: faults.map(({ field, cell, why }) => ({ label: fieldLabel(field), cell, what: why })) };
}

function mendedRow({ file, row, mends }: MendedRow): ShownRow {
  return { file, row, said: mends.map(({ field, cell, how }) => ({ label: fieldLabel(field), cell, what: how })) };
}

const grams = (amount: number) => formatMass(amount, "metric");

/** What was read of an event, in the units of the log. */
function saidEntry(entry: Partial<ChargeEntryInput>): string {
  const { cooling, recovered_g, added_g, added_by, finish, repair, dye, note } = entry;
  return [
    cooling ?? null,
    recovered_g == null ? null : `recovered ${grams(recovered_g)}`,
    added_g == null ? null : `added ${grams(added_g)}${added_by == null ? "" : ` by ${added_by}`}`,
    finish ?? null,
    repair == null ? null : `repair: ${repair}`,
    dye == null ? null : "dye added",
    note == null ? null : `“${note}”`,
  ]
    .filter((part) => part !== null)
    .join(", ");
}

/** Only what differs between two entries. */
function difference(here: ChargeEntryInput, file: ChargeEntryInput): { from: string; to: string } {
  const differing = (Object.keys(file) as (keyof ChargeEntryInput)[]).filter(
    (name) => (here[name] ?? null) !== (file[name] ?? null),
  );
  const only = (entry: ChargeEntryInput) => {
    const some = Object.fromEntries(differing.map((name) => [name, entry[name]])) as Partial<ChargeEntryInput>;
    return [some.date ?? null, saidEntry(some) || null].filter((part) => part !== null).join(", ");
  };
  return { from: only(here) || "nothing", to: only(file) || "nothing" };
}
