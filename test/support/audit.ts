/**
 * Asks the registry for known holes in the packages that the product uses:
 *
 *     npm run audit
 *
 * Ends with an error where there is one of some weight; with `--tell`, as in `npm test`, it is told alone: a hole that
 * becomes known is no fault of a change. Where nothing could be asked it says so, in so many words: then
 * nothing is known, which is not the same as nothing being there.
 */
import { spawnSync } from "node:child_process";

/** What a report of `npm audit --json` has, as far as it is read here. */
interface Report {
  metadata: { vulnerabilities: Record<string, number>; dependencies?: { total?: number } };
  vulnerabilities: Record<string, { severity: string; range: string }>;
}

const WEIGHTY = ["high", "critical"];

/** What to print, and whether to end with an error, for what the command wrote. */
export function auditOf(output: string): { text: string; failed: boolean } {
  const report = reportOf(output);
  if (report === null) {
    const why = /"message": "([^"]*)"/.exec(output)?.[1]?.replace(/https?:\/\/\S+/g, "the registry") ?? "no answer";
    return {
      text: `NOT CHECKED for known holes: the registry's advisories could not be had (${why}). Run this where they can.`,
      failed: false,
    };
  }
  const found = Object.entries(report.vulnerabilities);
  const lines = found.map(([name, { severity, range }]) => `${severity}: ${name} ${range}`);
  const failed = found.some(([, { severity }]) => WEIGHTY.includes(severity));
  return { text: [`Known holes in what the product uses: ${found.length}.`, ...lines].join("\n"), failed };
}

function reportOf(output: string): Report | null {
  try {
    const report = JSON.parse(output);
    return typeof report.vulnerabilities === "object" && report.metadata !== undefined ? report : null;
  } catch {
    return null;
  }
}

if (import.meta.main) {
  const { stdout, stderr } = spawnSync("npm", ["audit", "--omit=dev", "--json"], { encoding: "utf8", timeout: 20_000 });
  const { text, failed } = auditOf(reportOf(stdout) === null ? stdout + stderr : stdout);
  console.log(text);
  process.exit(failed && !process.argv.includes("--tell") ? 1 : 0);
}
