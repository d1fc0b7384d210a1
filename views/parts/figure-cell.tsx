import type { Child } from "hono/jsx";

interface FigureCellProps {
  /** The number itself, for charts and other scripts. */
  value?: number;
  /** Name of its column, shown beside it where a narrow screen makes each row a card. */
  heading?: string;
  /** Its unit, where the head of the column has it. */
  unit?: string;
  /** The number in words. */
  children: Child;
}

/** A cell of a table that holds a number. */
export function FigureCell({ value, heading, unit, children }: FigureCellProps) {
  return (
    <td class="figure-cell" data-heading={heading} data-unit={unit}>
      {value === undefined ? children : <data value={value}>{children}</data>}
    </td>
  );
}
