const formats = new Map<string, Intl.DateTimeFormat>();

/** When something was written down, where the workspace is: `1 May 2026 at 12:00`. `iso` is a UTC instant. */
export function Recorded({ iso, time_zone }: { iso: string; time_zone: string }) {
  let format = formats.get(time_zone);
  if (format === undefined) {
    format = new Intl.DateTimeFormat("en-GB", { timeZone: time_zone, dateStyle: "long", timeStyle: "short" });
    formats.set(time_zone, format);
  }
  return (
    <time datetime={iso}>
      {format.format(new Date(iso))}
      {time_zone === "UTC" && " UTC"}
    </time>
  );
}
