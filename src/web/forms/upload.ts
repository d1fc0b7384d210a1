import { getMultipartBoundary, MultipartParseError, MultipartParser } from "@remix-run/multipart-parser";
import type { Context } from "hono";
import { Problem } from "../../core/problem.ts";
import { keptText } from "../../store/text.ts";
import { submitKeyOf } from "./posted-form.ts";

/** Bytes one after the other: putting those of a large file together would keep others waiting. */
export type Pieces = readonly Uint8Array<ArrayBuffer>[];

/** A file of a form. */
export interface FormFile {
  name: string;
  /** In memory of their own and of no other request, so that they can be handed over to a thread. */
  pieces: Pieces;
}

/**
 * The files and fields of a `multipart/form-data` form (RFC 7578), by name. Throws `Problem` unreadable for anything
 * else. Its size is bounded before.
 */
export async function uploadOf(c: Context): Promise<{ files: ReadonlyMap<string, FormFile>; fields: URLSearchParams }> {
  const fields = new URLSearchParams();
  const files = new Map<string, FormFile>();
  for await (const { name, filename, content } of partsOf(c)) {
    if (filename === null) fields.append(name, keptText(textOf(content)));
    else if (content.length > 0) files.set(name, { name: typedName(filename), pieces: content });
  }
  if (submitKeyOf(fields) === null) fields.delete("submit_key");
  return { files, fields };
}

/** As UTF-8, without a byte order mark. */
export function textOf(pieces: Pieces): string {
  const decoder = new TextDecoder();
  const texts = pieces.map((piece) => decoder.decode(piece, { stream: true }));
  return texts.join("") + decoder.decode();
}

/** All in one. */
export function bytesOf(pieces: Pieces): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(pieces.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
}

/** Browsers write three signs of a file's name so (HTML, multipart form data). */
function typedName(filename: string): string {
  return filename.replaceAll("%22", '"').replaceAll("%0D", "\r").replaceAll("%0A", "\n");
}

interface Part {
  name: string;
  /** Null: a field. */
  filename: string | null;
  content: Uint8Array<ArrayBuffer>[];
}

async function* partsOf(c: Context): AsyncIterable<Part> {
  const type = c.req.header("Content-Type") ?? "";
  const boundary = type.toLowerCase().startsWith("multipart/form-data") ? getMultipartBoundary(type) : null;
  const { body } = c.req.raw;
  if (boundary === null || body === null) throw unreadable();
  // The request's own limit goes before: it has been asked by now.
  const parser = new MultipartParser(boundary, { maxFileSize: Infinity, maxTotalSize: Infinity });
  try {
    for await (const block of blocksOf(body))
      for (const { name, filename = "", isFile, content } of parser.write(block)) {
        if (name === undefined) throw unreadable();
        yield { name, filename: isFile ? filename : null, content: content as Part["content"] };
      }
    parser.finish();
  } catch (error) {
    // A TypeError: a name that is not UTF-8.
    if (error instanceof MultipartParseError || error instanceof TypeError) throw unreadable();
    throw error;
  }
}

const BLOCK_BYTES = 256 * 1024;
const LINE_END = [0x0d, 0x0a];

/** The body, copied into blocks: what the connection gives it in is smaller, and may be used again. */
async function* blocksOf(body: ReadableStream<Uint8Array>): AsyncIterable<Uint8Array<ArrayBuffer>> {
  const reader = body.getReader();
  let block = new Uint8Array(BLOCK_BYTES);
  let filled = 0;
  for (let next = await reader.read(); !next.done; next = await reader.read()) {
    for (let from = 0; from < next.value.length; ) {
      const piece = next.value.subarray(from, from + BLOCK_BYTES - filled);
      block.set(piece, filled);
      filled += piece.length;
      from += piece.length;
      if (filled < BLOCK_BYTES) continue;
      yield block;
      block = new Uint8Array(BLOCK_BYTES);
      filled = 0;
    }
  }
  const rest = block.subarray(0, filled);
  // The parser takes nothing after the last boundary, not even the end of its line, should that lie in a new block.
  if (rest.length > LINE_END.length || rest.some((byte) => !LINE_END.includes(byte))) yield rest;
}

function unreadable(): Problem {
  return new Problem("unreadable", "This form could not be read. Open the page again, then choose the file.");
}
