import { type CustomerSaid, saidInEnglish } from "../../../views/quotes/customer-said.tsx";
import type { ShopAnswerFields } from "../../../views/quotes/quote-page.tsx";
import {
  ANSWER_NAME_CHARS,
  ANSWERED_HOW,
  type AnsweredHow,
  type QuoteSnapshot,
} from "../../core/quotes/quote-document.ts";
import { type Read, Refusals } from "../forms/form-reading.ts";
import { typedFields } from "../forms/posted-form.ts";
import { oneOf } from "../forms/typed-values.ts";

/** A customer's answer as it was chosen and signed. */
export interface NamedChoice {
  /** Id of an option, or `no`. */
  choice: string;
  name: string;
}

/** Says what is wrong with an answer, whoever types it. */
export function refuseChoice(
  { refuse }: Refusals,
  { choice, name }: NamedChoice,
  { options }: QuoteSnapshot,
  said: Pick<CustomerSaid, "word">,
  name_needed = said.word("answer.name-needed"),
): void {
  if (choice !== "no" && !options.some(({ id }) => id === choice)) refuse("choice", said.word("answer.choose"));
  if (name === "") refuse("name", name_needed);
  if ([...name].length > ANSWER_NAME_CHARS) refuse("name", said.word("answer.name-long", { most: ANSWER_NAME_CHARS }));
}

/** The fields of an answer that a shop enters for its customer, as a form sent them. */
export function shopAnswerFields(form: URLSearchParams): ShopAnswerFields {
  const { name, ...fields } = typedFields(form, ["choice", "name", "how"]);
  return { ...fields, name: name.trim() };
}

/** Reads an answer that the shop writes down. */
export function readShopAnswer(
  fields: ShopAnswerFields,
  snapshot: QuoteSnapshot,
): Read<{ option: string | null; name: string; how: AnsweredHow }> {
  const refusals = new Refusals();
  refuseChoice(refusals, fields, snapshot, saidInEnglish(snapshot), "Enter the name of whoever said so");
  const how = oneOf(ANSWERED_HOW, fields.how) ?? refusals.refuse("how", "Choose how the answer came");
  const errors = refusals.all();
  if (errors.length > 0 || how === undefined) return { ok: false, errors };
  return { ok: true, input: { option: fields.choice === "no" ? null : fields.choice, name: fields.name, how } };
}
