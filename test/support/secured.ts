/** What each answer has to carry, whatever it says (as security.ts has it; the values as browsers read them). */
const WANTED: Readonly<Record<string, RegExp>> = {
  "Content-Security-Policy": new RegExp(
    "^default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self' data:; worker-src 'self'; " +
      "manifest-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'$",
  ),
  "X-Content-Type-Options": /^nosniff$/,
  "Referrer-Policy": /^same-origin$/,
  "X-Frame-Options": /^DENY$/,
  "Permissions-Policy": /camera=\(\), display-capture=\(\), geolocation=\(\)/,
  "Cross-Origin-Opener-Policy": /^same-origin$/,
  "Cross-Origin-Resource-Policy": /^same-origin$/,
  "Cross-Origin-Embedder-Policy": /^require-corp$/,
};
/** Only where others come in over HTTPS. */
const HTTPS: Readonly<Record<string, RegExp>> = { "Strict-Transport-Security": /^max-age=31536000$/ };

/** The security headers that an answer lacks, or that say something else. */
export function unsecured({ headers }: { headers: Headers }, { https }: { https: boolean }): string[] {
  const wanted = Object.entries({ ...WANTED, ...(https ? HTTPS : {}) });
  return wanted.filter(([name, value]) => !value.test(headers.get(name) ?? "")).map(([name]) => name);
}
