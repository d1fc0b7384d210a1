import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { type CustomerSaid, saidInEnglish } from "../../../views/quotes/customer-said.tsx";
import type { ShopAnswerFields } from "../../../views/quotes/quote-page.tsx";
import { ANSWERED_HOW, type AnsweredHow, type QuoteSnapshot } from "../../core/quotes/quote-document.ts";
import { type Read, Refusals } from "../forms/form-reading.ts";
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
  said: Pick<CustomerSaid, "word">,
  name_needed = said.word("answer.name-needed"),
): FieldError[] {
  const refusals = new Refusals();
  const { refuse } = refusals;
  if (choice !== "no" && !options.some(({ id }) => id === choice)) refuse("choice", said.word("answer.choose"));
  if (name === "") refuse("name", name_needed);
  if ([...name].length > MAX_NAME_CHARS) refuse("name", said.word("answer.name-long", { most: MAX_NAME_CHARS }));
  return refusals.all();
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
  const errors = choiceFaults(fields, snapshot, saidInEnglish(snapshot), "Enter the name of whoever said so");
  const how = oneOf(ANSWERED_HOW, fields.how);
  if (how === undefined) errors.push({ field: "how", message: "Choose how the answer came" });
  if (errors.length > 0 || how === undefined) return { ok: false, errors };
  return { ok: true, input: { option: fields.choice === "no" ? null : fields.choice, name: fields.name, how } };
}
