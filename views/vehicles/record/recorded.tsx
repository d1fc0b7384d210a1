import { localTime } from "../../../src/core/quantities/local-time.ts";

/** When something was written down, where the workspace is: `1 May 2026 at 12:00`. `iso` is a UTC instant. */
export function Recorded({ iso, time_zone }: { iso: string; time_zone: string }) {
  return (
    <time datetime={iso}>
      {localTime(iso, time_zone)}
      {time_zone === "UTC" && " UTC"}
    </time>
  );
}
