/**
 * The signature of a message: HMAC-SHA256 (RFC 2104, FIPS 180-4) under the secret over the timestamp, a full stop and
 * the body, as 64 hexadecimal digits. The timestamp, seconds since 1970, is in it so that an old message cannot be sent
 * again later by somebody else.
 */
export async function signatureOf(secret: string, timestamp: string, body: string): Promise<string> {
  return hmacSha256(secret, `${timestamp}.${body}`);
}

/** @internal Called from outside by tests alone. */
export async function hmacSha256(secret: string, text: string): Promise<string> {
  const bytes = new TextEncoder();
  const algorithm = { name: "HMAC", hash: "SHA-256" };
  const key = await crypto.subtle.importKey("raw", bytes.encode(secret), algorithm, false, ["sign"]);
  const signed = await crypto.subtle.sign("HMAC", key, bytes.encode(text));
  return Array.from(new Uint8Array(signed), (byte) => byte.toString(16).padStart(2, "0")).join("");
}
