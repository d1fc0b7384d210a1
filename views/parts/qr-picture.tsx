/** A square of dark and light modules, row by row. */
export interface QrCode {
  size: number;
  dark: readonly (readonly boolean[])[];
}

/** Light modules around the code, as ISO/IEC 18004 wants it. */
const QUIET = 4;

/** The code as one path, black on white in either scheme: readers need dark on light. */
export function QrPicture({ code, label }: { code: QrCode; label: string }) {
  const { size, dark } = code;
  const side = size + 2 * QUIET;
  const path = dark.flatMap((row, y) =>
    row.flatMap((is_dark, x) => (is_dark ? [`M${x + QUIET} ${y + QUIET}h1v1h-1z`] : [])),
  );
  return (
    <svg class="qr" viewBox={`0 0 ${side} ${side}`} role="img" aria-label={label} shape-rendering="crispEdges">
      <rect width={side} height={side} fill="#fff" />
      <path d={path.join("")} fill="#000" />
    </svg>
  );
}
