/** What a page may load and where it may send: our own files only, no inline script or style. */
export const contentSecurityPolicy = {
  defaultSrc: ["'self'"],
  scriptSrc: ["'self'"],
  styleSrc: ["'self'"],
  imgSrc: ["'self'", "data:"],
  objectSrc: ["'none'"],
  baseUri: ["'none'"],
  formAction: ["'self'"],
  frameAncestors: ["'none'"],
};

/** The same policy as the text of the header, for files that are served before the app. */
export function contentSecurityPolicyText(): string {
  return Object.entries(contentSecurityPolicy)
    .map(
      ([directive, sources]) =>
        `${directive.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)} ${sources.join(" ")}`,
    )
    .join("; ");
}

/** Files with a hash in their name never change. */
export const HASHED_FILE_CACHE = "public, max-age=31536000, immutable";
