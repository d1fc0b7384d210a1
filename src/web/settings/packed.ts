import { decodeBase64Url, encodeBase64Url } from "hono/utils/encode";
import { Problem } from "../../core/problem.ts";

/** Packs a text for a hidden form field: gzip, then characters that need no escaping. */
export async function packed(text: string): Promise<string> {
  const zipped = new Blob([text]).stream().pipeThrough(new CompressionStream("gzip"));
  return encodeBase64Url(await new Response(zipped).arrayBuffer()).replaceAll("=", "");
}

/** Its bytes again. Throws `Problem` unreadable for what was not packed here, and too-large beyond `max_bytes`. */
export async function unpacked(form_value: string, max_bytes: number): Promise<Uint8Array<ArrayBuffer>> {
  try {
    const zipped = new Blob([decodeBase64Url(form_value)]).stream();
    const text = zipped.pipeThrough(new DecompressionStream("gzip")).pipeThrough(atMost(max_bytes));
    return new Uint8Array(await new Response(text).arrayBuffer());
  } catch (error) {
    if (error instanceof Problem) throw error;
    throw new Problem("unreadable", "Part of this form is missing. Choose the file again.");
  }
}

/** Stops after `max_bytes`: a small file may unpack to any size. */
function atMost(max_bytes: number): TransformStream<Uint8Array<ArrayBuffer>, Uint8Array<ArrayBuffer>> {
  let size = 0;
  return new TransformStream({
    transform(chunk, controller) {
      size += chunk.length;
      if (size > max_bytes) throw new Problem("too-large", "This file is too large to be read here.");
      controller.enqueue(chunk);
    },
  });
}
