import { FINDING_IDS } from "../../src/core/readings/readings-contract.ts";
import { FINDING_WORDS } from "../readings/finding-words.ts";
import type { QuickFields } from "./quick-fields.ts";

interface ReadingsTakenProps {
  fields: QuickFields;
  addressWith: (changes: Partial<QuickFields>) => string;
  /** Whether an answer stands beside it, which says so itself. */
  answered: boolean;
}

const SAYS: Readonly<Record<string, string>> = {
  low: "it is low",
  "not-low": "it is not low",
  undecided: "they can't tell",
};

/** What readings said, where they were taken for this question: told where no answer says that it counts them. */
export function ReadingsTaken({ fields, addressWith, answered }: ReadingsTakenProps) {
  const { says, found } = fields;
  const said = SAYS[says];
  if (said === undefined) return null;
  const finding = FINDING_IDS.find((id) => id === found);
  return (
    <>
      <input type="hidden" name="says" value={says} />
      <input type="hidden" name="found" value={found} />
      {!answered && (
        <p class="readings-taken">
          <strong>The readings</strong> say: {said}
          {finding !== undefined && `; ${FINDING_WORDS[finding].as}`}.{" "}
          <a href={addressWith({}).replace("/?", "/readings?")}>Take them again</a> or{" "}
          <a href={addressWith({ says: "", found: "" })}>leave them out</a>.
        </p>
      )}
    </>
  );
}
