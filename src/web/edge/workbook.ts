import Papa from "papaparse";
import { importBounds } from "../../../data/fleet-format.ts";
import { pageNumber } from "../../core/quantities/number-text.ts";

/** Workbooks (`.xlsx`, Office Open XML) in and out, one text of comma-separated values a sheet. */

export interface WorkbookSheet {
  name: string;
  /** Its cells as CSV: days as YYYY-MM-DD, numbers with a point. */
  csv: string;
}

export type Workbook = { ok: true; sheets: WorkbookSheet[] } | { ok: false; message: string };

const ZIP_SIGNATURE = [0x50, 0x4b, 0x03, 0x04];

/** Whether a file begins as a workbook does. */
export function isWorkbook(head: Uint8Array): boolean {
  return ZIP_SIGNATURE.every((byte, i) => head[i] === byte);
}

/**
 * The sheets that hold anything. Sizes are checked before anything is unpacked: a small file can hold a very large one.
 * Never throws on what a file holds.
 */
export async function workbookSheets(bytes: ArrayBuffer): Promise<Workbook> {
  const unpacked = await unpackedWorkbook(bytes);
  if (!unpacked.ok) return unpacked;
  // Only someone who sends a workbook in pays for loading the reader.
  const { default: readXlsxFile } = await import("read-excel-file/universal");
  try {
    const sheets = await readXlsxFile(unpacked.bytes);
    const filled = sheets.filter(({ data }) => data.some((row) => row.some((cell) => cell !== null && cell !== "")));
    if (filled.length === 0) return { ok: false, message: "The workbook is empty." };
    if (filled.length > importBounds.sheets) {
      return {
        ok: false,
        message: `The workbook has ${filled.length} sheets; at most ${importBounds.sheets} can be read. Send the ones with vehicles and top-offs.`,
      };
    }
    return {
      ok: true,
      sheets: filled.map(({ sheet, data }) => ({
        name: sheet,
        csv: Papa.unparse(
          data.map((row) => row.map(cellText)),
          { newline: "\n" },
        ),
      })),
    };
  } catch {
    return { ok: false, message: UNREADABLE };
  }
}

const UNREADABLE =
  "This workbook cannot be opened; it may be damaged or have a password. Save it again as .xlsx, or the sheet as CSV.";

/**
 * The same workbook with nothing compressed in it: the reader unpacks what is compressed in a way that not every
 * runtime has. Refuses what is no workbook, and one that is too large before it is unpacked; where a size is stated too
 * small the part is cut off, and cannot be read then.
 */
async function unpackedWorkbook(
  bytes: ArrayBuffer,
): Promise<{ ok: true; bytes: ArrayBuffer } | { ok: false; message: string }> {
  const { unzipSync, zipSync } = await import("fflate");
  let size = 0;
  let is_workbook = false;
  try {
    const packed = new Uint8Array(bytes);
    unzipSync(packed, {
      filter: ({ name, originalSize }) => {
        if (isRead(name)) size += originalSize;
        is_workbook ||= name === "xl/workbook.xml";
        return false;
      },
    });
    if (!is_workbook)
      return { ok: false, message: "This is an archive, not a spreadsheet. Send the .xlsx or the CSV file itself." };
    if (size > importBounds.workbook_bytes) {
      const most = pageNumber(importBounds.workbook_bytes / 1024 / 1024);
      return {
        ok: false,
        message: `Unpacked, this workbook is larger than ${most} MB. Save the sheet as CSV, or cut it into parts.`,
      };
    }
    const parts = unzipSync(packed, { filter: ({ name }) => isRead(name) });
    return { ok: true, bytes: zipSync(parts, { level: 0 }).buffer as ArrayBuffer };
  } catch {
    return { ok: false, message: UNREADABLE };
  }
}

/** Pictures and printer settings are left alone. */
function isRead(name: string): boolean {
  return /\.xml(\.rels)?$/.test(name);
}

function cellText(cell: unknown): string {
  if (cell === null || cell === undefined) return "";
  if (cell instanceof Date) return Number.isNaN(cell.getTime()) ? "" : dayText(cell);
  if (typeof cell === "boolean") return cell ? "yes" : "no";
  return String(cell);
}

/** A sheet's days have no time zone; the reader puts them at midnight UTC. */
function dayText(day: Date): string {
  return day.toISOString().slice(0, 10);
}

export interface SheetOut {
  name: string;
  rows: readonly (readonly (string | number | null)[])[];
}

/** A workbook with one sheet, its header row bold and kept in sight. Texts stay texts: no cell becomes a formula. */
export async function workbookOf({ name, rows }: SheetOut): Promise<Blob> {
  const { default: writeXlsxFile } = await import("write-excel-file/universal");
  const cells = rows.map((row, i) =>
    row.map((value) => {
      if (value === null || value === "") return null;
      if (typeof value === "number") return { value, type: Number };
      return i === 0 ? { value, type: String, fontWeight: "bold" as const } : { value, type: String };
    }),
  );
  return writeXlsxFile(cells, { sheet: name, stickyRowsCount: 1 }).toBlob();
}
