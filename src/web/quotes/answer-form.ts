import type { FieldError } from "../../../views/parts/error-summary.tsx";
import type { ShopAnswerFields } from "../../../views/quotes/quote-page.tsx";
import { ANSWERED_HOW, type AnsweredHow, type QuoteSnapshot } from "../../core/quotes/quote-document.ts";
import type { Read } from "../forms/form-reading.ts";
import { oneOf } from "../forms/typed-values.ts";

const MAX_NAME_CHARS = 120;

/** A customer's answer as it was chosen and signed. */
export interface NamedChoice {
  /** Id of an option, or `no`. */
  choice: string;
  name: string;
}

/** What is wrong with an answer, whoever types it. */
export function choiceFaults(
  { choice, name }: NamedChoice,
  { options }: QuoteSnapshot,
  name_needed: string,
): FieldError[] {
  const errors: FieldError[] = [];
  if (choice !== "no" && !options.some(({ id }) => id === choice))
    errors.push({ field: "choice", message: "Choose one of the options, or no" });
  if (name === "") errors.push({ field: "name", message: name_needed });
  if ([...name].length > MAX_NAME_CHARS)
    errors.push({ field: "name", message: `Keep the name to ${MAX_NAME_CHARS} characters` });
  return errors;
}

export function shopAnswerFields(form: URLSearchParams): ShopAnswerFields {
  return {
    choice: form.get("choice") ?? "",
    name: (form.get("name") ?? "").trim(),
    how: form.get("how") ?? "",
  };
}

/** Reads an answer that the shop writes down. */
export function readShopAnswer(
  fields: ShopAnswerFields,
  snapshot: QuoteSnapshot,
): Read<{ option: string | null; name: string; how: AnsweredHow }> {
  const errors = choiceFaults(fields, snapshot, "Enter the name of whoever said so");
  const how = oneOf(ANSWERED_HOW, fields.how);
  if (how === undefined) errors.push({ field: "how", message: "Choose how the answer came" });
  if (errors.length > 0 || how === undefined) return { ok: false, errors };
  return { ok: true, input: { option: fields.choice === "no" ? null : fields.choice, name: fields.name, how } };
}
