import { promisify } from "node:util";
import { constants, crc32, deflateRaw } from "node:zlib";
import type { PackedPage, PackPage } from "./web/edge/page-cache.ts";

/**
 * A kept page as gzip (RFC 1952) that is compressed once, although each copy has another key in its forms: the pieces
 * between the keys are deflated (RFC 1951) by themselves, each up to a byte boundary, and a key goes between them as a
 * stored block. Only the checksum is worked out for each copy.
 */

const deflated = promisify(deflateRaw);

/** Magic, deflate, no flags, no time, no extras, system unknown. */
const HEAD = Uint8Array.of(0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 0, 0xff);
/** An empty stored block that is the last. */
const LAST = Uint8Array.of(1, 0, 0, 0xff, 0xff);

export const packPage: PackPage = async (pieces) => {
  const packed = await Promise.all(pieces.map((piece) => deflated(piece, { finishFlush: constants.Z_SYNC_FLUSH })));
  const length = pieces.reduce((sum, piece) => sum + piece.length, 0);
  const whole = pieces.length === 1 ? put(packed, pieces, "", length) : null;
  return {
    bytes: packed.reduce((sum, piece) => sum + piece.length, 0),
    withKey: (key) => whole ?? put(packed, pieces, key, length),
  } satisfies PackedPage;
};

function put(
  packed: readonly Uint8Array[],
  pieces: readonly Uint8Array[],
  key: string,
  length: number,
): Uint8Array<ArrayBuffer> {
  const key_bytes = Buffer.from(key);
  const stored = Buffer.alloc(5 + key_bytes.length);
  stored.writeUInt16LE(key_bytes.length, 1);
  stored.writeUInt16LE(0xffff - key_bytes.length, 3);
  stored.set(key_bytes, 5);
  const parts: Uint8Array[] = [HEAD];
  let sum = 0;
  pieces.forEach((piece, i) => {
    if (i > 0) {
      parts.push(stored);
      sum = crc32(key_bytes, sum);
    }
    parts.push(packed[i]!);
    sum = crc32(piece, sum);
  });
  const end = Buffer.alloc(8);
  end.writeUInt32LE(sum, 0);
  end.writeUInt32LE((length + (pieces.length - 1) * key_bytes.length) % 2 ** 32, 4);
  parts.push(LAST, end);
  return new Uint8Array(Buffer.concat(parts));
}
