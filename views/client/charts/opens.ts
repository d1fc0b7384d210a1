import type { ChartOptions } from "chart.js";
import type { Row } from "./table.ts";

/** A press on mark `i` follows the link of row `i`; its table has the same links for everyone else. */
export function opens(rows: readonly (Row | undefined)[]): Pick<ChartOptions, "onClick" | "onHover"> {
  return {
    onClick: (_event, elements) => {
      const href = rows[elements[0]?.index ?? -1]?.href;
      if (href) location.assign(href);
    },
    onHover: ({ native }, elements) => {
      const canvas = native?.target;
      if (canvas instanceof HTMLElement) canvas.style.cursor = rows[elements[0]?.index ?? -1]?.href ? "pointer" : "";
    },
  };
}
