/** The shop's logo, kept as the address of an image that holds the picture itself (RFC 2397). */

/** A logo is small: it stands with every page that shows it. */
export const LOGO_KIB = 48;
/** Pixels each way; beyond, a small file could take a reader's memory. */
const MOST_PIXELS = 2000;
const PNG_HEAD = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
/** What makes a drawing do something, or fetch something. A logo needs none of it. */
const ACTIVE = [
  /<!doctype/i,
  /<!entity/i,
  /<script/i,
  /<foreignobject/i,
  /<iframe/i,
  /<(?:set|animate)/i,
  /javascript:/i,
  /\son[a-z]+\s?=/i,
  /@import/i,
  /href\s?=\s?["']\s?(?!#|data:image\/png)/i,
  /url\(\s?["']?(?!#)/i,
];

/**
 * A picture as it is kept, or what is wrong with it. It is only ever shown as the source of an image, never as markup
 * of a page: a browser runs no script of an SVG in an image, and lets it fetch nothing (SVG 2, section 2.7.1, secure
 * static mode). One that tries is refused all the same, since somebody may save it and open it by itself.
 */
export function readLogo(bytes: Uint8Array): { logo: string } | { fault: string } {
  if (bytes.length > LOGO_KIB * 1024) return { fault: `Choose a picture of at most ${LOGO_KIB} KiB` };
  if (PNG_HEAD.every((byte, i) => bytes[i] === byte)) {
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    if (bytes.length < 33) return { fault: "This PNG is damaged. Save it again, then choose it" };
    const [width, height] = [view.getUint32(16), view.getUint32(20)];
    if (width === 0 || height === 0 || width > MOST_PIXELS || height > MOST_PIXELS)
      return { fault: `Choose a picture of at most ${MOST_PIXELS} pixels each way` };
    return { logo: `data:image/png;base64,${base64(bytes)}` };
  }
  const text = svgText(bytes);
  if (text === null) return { fault: "Choose a picture as PNG or SVG" };
  if (ACTIVE.some((pattern) => pattern.test(text)))
    return { fault: "This SVG holds scripts, animation or links. Save it as a plain drawing, or as PNG" };
  return { logo: `data:image/svg+xml;base64,${base64(bytes)}` };
}

/** Whether a text is a logo as `readLogo` gives it; "" is none. */
export function isLogo(kept: string): boolean {
  if (kept === "") return true;
  const [, data] = kept.split(";base64,");
  if (data === undefined || data.length > LOGO_KIB * 1366) return false;
  try {
    const read = readLogo(Uint8Array.from(atob(data), (sign) => sign.charCodeAt(0)));
    return "logo" in read && read.logo === kept;
  } catch {
    return false;
  }
}

/** The text of a drawing; null for what is none. */
function svgText(bytes: Uint8Array): string | null {
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes).trim();
    return text.startsWith("<") && text.endsWith("</svg>") && /<svg[\s>]/.test(text) ? text : null;
  } catch {
    return null;
  }
}

function base64(bytes: Uint8Array): string {
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
}
