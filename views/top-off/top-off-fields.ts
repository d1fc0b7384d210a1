import type { Choice } from "../parts/field.tsx";

/** What the plan asks beside the charge log, as it was typed. */
export interface TopOffFields {
  ambient: string;
  where: string;
  compressor: string;
  contents: string;
  says: string;
  seal: string;
}

export const COMPRESSOR_CHOICES: readonly Choice[] = [
  { value: "unknown", label: "Not looked yet" },
  { value: "belt", label: "A belt" },
  { value: "electric", label: "The high-voltage battery" },
];

export const SAYS_CHOICES: readonly Choice[] = [
  { value: "", label: "Not taken" },
  { value: "low", label: "It is low" },
  { value: "not-low", label: "It is not low" },
  { value: "undecided", label: "They do not decide" },
];

export const SEAL_CHOICES: readonly Choice[] = [
  { value: "self-sealing", label: "Self-sealing" },
  { value: "pierced", label: "To be pierced" },
];

export const CONTENTS_CHOICES: readonly Choice[] = [
  { value: "unknown", label: "Not looked yet" },
  { value: "as-labeled", label: "Only what the label says" },
  { value: "sealer", label: "Sealer was put in" },
  { value: "other", label: "Converted, propane-type or mixed" },
];
