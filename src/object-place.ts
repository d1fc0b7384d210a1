import { parse } from "hono/utils/cookie";
import { decodeBase64Url } from "hono/utils/encode";
import { base64Url } from "./store/ids.ts";
import { SESSION_COOKIE } from "./web/edge/access.ts";

/** The id of an object as the namespace writes it: 64 hexadecimal figures. */
type HexId = string;

const KEYED_PATH = /^\/(?:q|access|feed)\/([\w-]{43})[\w-]{43}(?:\.ics|\/|$)/;
const BEARER = /^Bearer +([\w-]{43})[\w-]{43} *$/i;
const KEY = /^([\w-]{43})[\w-]{43}$/;

/** What keys to the records in an object begin with: its id, 32 bytes, as 43 signs. */
export function placeOf(id: HexId): string {
  return base64Url(Uint8Array.from(id.match(/../g) ?? [], (byte) => Number.parseInt(byte, 16)));
}

/**
 * Which object a request is for, read from the key that it carries: in the address of a customer's quote, an access
 * link or a calendar, else a program's key, else the browser's session. Null for someone without a key.
 */
export function objectOf(request: Request): HexId | null {
  const place =
    KEYED_PATH.exec(new URL(request.url).pathname)?.[1] ??
    BEARER.exec(request.headers.get("Authorization") ?? "")?.[1] ??
    KEY.exec(parse(request.headers.get("Cookie") ?? "", SESSION_COOKIE)[SESSION_COOKIE] ?? "")?.[1];
  return place === undefined ? null : hexOf(place);
}

function hexOf(place: string): HexId {
  return Array.from(decodeBase64Url(place), (byte) => byte.toString(16).padStart(2, "0")).join("");
}
