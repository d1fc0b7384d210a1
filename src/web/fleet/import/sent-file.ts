import { isWorkbook, type Workbook } from "../../edge/workbook.ts";
import { type Bytes, decodedText, type Text } from "./csv-text.ts";
import { type MappingAnswers, mappingOf } from "./mapping.ts";
import { type Survey, surveyOf } from "./survey.ts";

/** A file as it comes: a text is one sheet, a workbook may have several. */

export interface SentSheet {
  /** The file's name, with that of the sheet where there are several. */
  name: string;
  survey: Survey;
  text: Text;
}

export type SentFile = { ok: true; sheets: SentSheet[] } | { ok: false; message: string };

export interface FileToRead {
  name: string;
  bytes: Bytes;
  whole(): Promise<ArrayBuffer>;
  workbook(bytes: ArrayBuffer): Promise<Workbook>;
}

/** The sheets of a file that have a header and rows; else why there is none. */
export async function sentFile({ name, bytes, whole, workbook }: FileToRead): Promise<SentFile> {
  if (!isWorkbook(await firstPiece(bytes))) {
    const decoded = await decodedText(bytes);
    if (!decoded.ok) return decoded;
    const survey = await surveyOf(decoded.text);
    if (survey.broken !== null) return { ok: false, message: survey.broken };
    return { ok: true, sheets: [{ name, survey, text: decoded.text }] };
  }
  const read = await workbook(await whole());
  if (!read.ok) return read;
  const sheets = await Promise.all(
    read.sheets.map(async (sheet): Promise<SentSheet> => {
      const text: Text = () => inPieces(sheet.csv);
      const survey = await surveyOf(text, { typed_numbers: true });
      return { name: read.sheets.length === 1 ? name : `${name}, ${sheet.name}`, survey, text };
    }),
  );
  const whole_ones = sheets.filter(({ survey }) => survey.broken === null);
  if (whole_ones.length === 0) return { ok: false, message: sheets[0]!.survey.broken! };
  return { ok: true, sheets: whole_ones };
}

/** Sheets in which no column names a vehicle are left out, where others have one. */
export function firstAnswers(sheets: readonly SentSheet[]): MappingAnswers[] {
  const named = sheets.map(({ survey }) => mappingOf(survey).mapping.columns.vehicle !== undefined);
  return named.map((has_vehicle) => (!has_vehicle && named.includes(true) ? { skip: true } : {}));
}

async function firstPiece(bytes: Bytes): Promise<Uint8Array> {
  let head = new Uint8Array();
  for await (const piece of bytes()) {
    head = Uint8Array.from([...head, ...piece.subarray(0, 8)]);
    if (head.length >= 4) break;
  }
  return head;
}

const PIECE_CHARS = 200_000;

async function* inPieces(text: string): AsyncIterable<string> {
  for (let from = 0; from < text.length; from += PIECE_CHARS) yield text.slice(from, from + PIECE_CHARS);
}
