import { Problem } from "../../core/problem.ts";

/** A text in a form that goes to the page and comes back with it: gzip, then signs that a form need not escape. */
export async function packed(text: string): Promise<string> {
  const bytes = await bytesOf(new Blob([text]).stream().pipeThrough(new CompressionStream("gzip")), Infinity);
  let binary = "";
  for (let i = 0; i < bytes.length; i += CHUNK) binary += String.fromCharCode(...bytes.subarray(i, i + CHUNK));
  return btoa(binary).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

/** The text again. Throws `Problem` unreadable for what was not packed here, and too-large beyond `max_bytes`. */
export async function unpacked(form_value: string, max_bytes: number): Promise<string> {
  try {
    const binary = atob(form_value.replaceAll("-", "+").replaceAll("_", "/"));
    const bytes = Uint8Array.from(binary, (sign) => sign.charCodeAt(0));
    const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
    return new TextDecoder().decode(await bytesOf(stream, max_bytes));
  } catch (error) {
    if (error instanceof Problem) throw error;
    throw new Problem("unreadable", "Part of this form is missing. Choose the file again.");
  }
}

/** Few enough to be the arguments of one call. */
const CHUNK = 8192;

async function bytesOf(stream: ReadableStream<Uint8Array>, max_bytes: number): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  let size = 0;
  const reader = stream.getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.length;
    if (size > max_bytes) {
      await reader.cancel();
      throw new Problem("too-large", "This file is too large to be read here.");
    }
    chunks.push(value);
  }
  const bytes = new Uint8Array(size);
  let at = 0;
  for (const chunk of chunks) {
    bytes.set(chunk, at);
    at += chunk.length;
  }
  return bytes;
}
