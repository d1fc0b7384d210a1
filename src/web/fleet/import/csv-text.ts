import { Pace } from "../../../store/pace.ts";

/**
 * Decodes a CSV file piece by piece, without byte order mark, every line ending as `\n`. The file is read twice, first
 * to detect its encoding, so the bytes come from a function that starts them again.
 */

/** Starts reading from the beginning. */
export type Bytes = () => AsyncIterable<Uint8Array>;
export type Text = () => AsyncIterable<string>;

export type Encoding = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";

export type DecodedText = { ok: true; text: Text; encoding: Encoding; bytes: number } | { ok: false; message: string };

/** Signatures of files that are not text, and what to say about them. */
const OTHER_FILES: readonly (readonly [bytes: readonly number[], message: string])[] = [
  [
    [0xd0, 0xcf, 0x11, 0xe0],
    "This is a spreadsheet of the old kind (.xls). Save it as .xlsx or CSV and send that file.",
  ],
  [[0x25, 0x50, 0x44, 0x46], "This is a PDF, not CSV. Export the table itself as CSV."],
];

/** Detects the encoding, or that this is not text. */
export async function decodedText(bytes: Bytes): Promise<DecodedText> {
  let size = 0;
  let head: Uint8Array | null = null;
  let is_utf8 = true;
  let zeros = 0;
  const utf8 = new TextDecoder("utf-8", { fatal: true });
  const pace = new Pace();
  for await (const piece of smallPieces(bytes())) {
    head = head === null || head.length < 4 ? joined(head, piece) : head;
    size += piece.length;
    for (const byte of piece) if (byte === 0) zeros++;
    if (is_utf8) is_utf8 = decodes(utf8, piece, true);
    if (pace.due) await pace.rest();
  }
  if (is_utf8) is_utf8 = decodes(utf8, new Uint8Array(), false);
  if (size === 0 || head === null) return { ok: false, message: "The file is empty." };
  for (const [start, message] of OTHER_FILES) {
    if (start.every((byte, i) => head[i] === byte)) return { ok: false, message };
  }
  const encoding = encodingOf(head, is_utf8, zeros / size);
  if (encoding === null)
    return { ok: false, message: "This is no text file. Export the table as CSV and send that file." };
  return { ok: true, encoding, bytes: size, text: () => lines(decoded(bytes, encoding)) };
}

/**
 * A file that came with a form may arrive whole. It is cut, so that work on a piece does not hold up other requests.
 */
const PIECE_BYTES = 64 * 1024;

async function* smallPieces(pieces: AsyncIterable<Uint8Array>): AsyncIterable<Uint8Array> {
  for await (const piece of pieces)
    for (let from = 0; from < piece.length; from += PIECE_BYTES) yield piece.subarray(from, from + PIECE_BYTES);
}

function joined(before: Uint8Array | null, piece: Uint8Array): Uint8Array {
  if (before === null) return piece;
  const both = new Uint8Array(before.length + piece.length);
  both.set(before);
  both.set(piece, before.length);
  return both;
}

function decodes(decoder: InstanceType<typeof TextDecoder>, piece: Uint8Array, stream: boolean): boolean {
  try {
    decoder.decode(piece, { stream });
    return true;
  } catch {
    return false;
  }
}

function encodingOf(head: Uint8Array, is_utf8: boolean, zero_share: number): Encoding | null {
  if (head[0] === 0xff && head[1] === 0xfe) return "utf-16le";
  if (head[0] === 0xfe && head[1] === 0xff) return "utf-16be";
  // Latin letters in two bytes each, without a mark.
  if (zero_share > 0.2) return head[1] === 0 ? "utf-16le" : head[0] === 0 ? "utf-16be" : null;
  if (zero_share > 0) return null;
  return is_utf8 ? "utf-8" : "windows-1252";
}

async function* decoded(bytes: Bytes, encoding: Encoding): AsyncIterable<string> {
  const decoder = new TextDecoder(encoding);
  for await (const piece of smallPieces(bytes())) yield decoder.decode(piece, { stream: true });
  yield decoder.decode();
}

/** Every line ending as `\n`, whichever way the file writes them. */
async function* lines(pieces: AsyncIterable<string>): AsyncIterable<string> {
  let after_return = false;
  for await (const piece of pieces) {
    const text = after_return && piece.startsWith("\n") ? piece.slice(1) : piece;
    if (piece !== "") after_return = piece.endsWith("\r");
    if (text !== "") yield text.replace(/\r\n?/g, "\n");
  }
}
