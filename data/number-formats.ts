export interface NumberFormat {
  /** Who writes like this, for the choice in the settings. */
  name: string;
  /**
   * BCP 47: whose numbers and amounts look like this in the Unicode Common Locale Data Repository, which Intl brings.
   */
  locale: string;
}

export const NUMBER_FORMAT_IDS = ["1,234.56", "1.234,56", "1 234,56", "1’234.56", "12,34,567.89"] as const;
export type NumberFormatId = (typeof NUMBER_FORMAT_IDS)[number];

/** How numbers and amounts are written, named by how they look. */
export const NUMBER_FORMATS: Readonly<Record<NumberFormatId, NumberFormat>> = {
  "1,234.56": { name: "Comma between thousands", locale: "en-US" },
  "1.234,56": { name: "Point between thousands", locale: "de-DE" },
  "1 234,56": { name: "Space between thousands", locale: "fr-FR" },
  "1’234.56": { name: "Apostrophe between thousands", locale: "de-CH" },
  "12,34,567.89": { name: "Lakh and crore", locale: "en-IN" },
};

/** The format of the pages themselves, which are in English. */
export const PAGE_FORMAT: NumberFormatId = "1,234.56";
