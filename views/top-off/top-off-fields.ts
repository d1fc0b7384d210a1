import { type Choice, choicesOf } from "../parts/field.tsx";

/** What the plan asks beside the charge log, as it was typed. */
export interface TopOffFields {
  ambient: string;
  where: string;
  compressor: string;
  contents: string;
  says: string;
  seal: string;
}

export const COMPRESSOR_CHOICES: readonly Choice[] = choicesOf({
  unknown: "Not looked yet",
  belt: "A belt",
  electric: "The high-voltage battery",
});

export const SAYS_CHOICES: readonly Choice[] = choicesOf({
  "": "Not taken",
  low: "It is low",
  "not-low": "It is not low",
  undecided: "They do not decide",
});

export const SEAL_CHOICES: readonly Choice[] = choicesOf({ "self-sealing": "Self-sealing", pierced: "To be pierced" });

export const CONTENTS_CHOICES: readonly Choice[] = choicesOf({
  unknown: "Not looked yet",
  "as-labeled": "Only what the label says",
  sealer: "Sealer was put in",
  other: "Converted, propane-type or mixed",
});
