import { shownAmounts, shownOthers } from "../published/amount-texts.ts";

/** Writes the amounts of the table as the Workers runtime has them. */
export default {
  fetch: () => Response.json({ amounts: shownAmounts(), others: shownOthers() }),
};
