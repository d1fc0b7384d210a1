import { LANGUAGES } from "../../../data/customer-words.ts";
import type {
  CustomerFields,
  OwnedVehicleFields,
  ParticularsFields,
} from "../../../views/customers/customer-fields.ts";
import type { UnitSystem } from "../../core/quantities/units.ts";
import { REFRIGERANTS } from "../../core/question/contract.ts";
import { MAX_LABEL_CHARS, NEW_VEHICLE, type VehicleInput } from "../../core/question/record.ts";
import type { VehicleOnPaper } from "../../core/quotes/quote-document.ts";
import { CUSTOMER_CHARS, type CustomerInput, PARTICULARS_CHARS, type ParticularsInput } from "../../store/customers.ts";
import { type Read, Refusals, readWords } from "../forms/form-reading.ts";
import { typedFields } from "../forms/posted-form.ts";
import { NAMEPLATE_NEEDED, oneOf, readNameplate } from "../forms/typed-values.ts";
import { readTypedVin } from "../forms/typed-vin.ts";

const CUSTOMER = ["name", "phone", "email", "address", "note", "language"] as const;
const PARTICULARS = ["words", "plate", "vin", "odometer", "customer_id"] as const;
const VEHICLE = ["words", "plate", "vin", "odometer", "refrigerant", "nameplate", "label"] as const;

/** The fields of a customer as a form sent them. */
export function customerFields(form: URLSearchParams): CustomerFields {
  return typedFields(form, CUSTOMER);
}

/** The fields of a vehicle's particulars as a form sent them. */
export function particularsFields(form: URLSearchParams): ParticularsFields {
  return typedFields(form, PARTICULARS);
}

/** The fields of a customer's new vehicle as a form sent them. */
export function ownedVehicleFields(form: URLSearchParams): OwnedVehicleFields {
  return typedFields(form, VEHICLE);
}

/** One `@` with text before it and a dot after it. Only sending a message would tell more. */
function isEmail(text: string): boolean {
  const [name = "", host = "", ...more] = text.split("@");
  return name !== "" && host.slice(1, -1).includes(".") && more.length === 0 && !/\s/.test(text);
}

/** A customer, or what has to be corrected. */
export function readCustomer(fields: CustomerFields): Read<CustomerInput> {
  const refusals = new Refusals();
  const { refuse } = refusals;
  const words = wordsOf(fields, CUSTOMER_CHARS, refuse);
  const input = {
    name: words("name"),
    phone: words("phone"),
    email: words("email"),
    address: words("address"),
    note: words("note"),
    language: oneOf(LANGUAGES, fields.language) ?? ("" as const),
  };
  if (input.name === "") refuse("name", "Enter the customer's name, like Robin Ames");
  if (input.phone !== "" && input.phone.replace(/\D/g, "").length < 3)
    refuse("phone", "Enter a telephone number, like 555 0142");
  if (input.email !== "" && !isEmail(input.email)) refuse("email", "Enter an e-mail address, like robin@example.com");
  return settled(refusals, CUSTOMER, input);
}

/** What papers say of a vehicle and whose it is, or what has to be corrected. */
export function readParticulars(fields: ParticularsFields): Read<ParticularsInput> {
  const refusals = new Refusals();
  const shown = shownIn(fields, refusals.refuse);
  const customer_id = fields.customer_id === "" ? null : fields.customer_id;
  return settled(refusals, PARTICULARS, { ...shown, customer_id });
}

/** A new vehicle of a customer: what papers print, and the two values that the model needs. */
export function readOwnedVehicle(
  fields: OwnedVehicleFields,
  customer_name: string,
  units: UnitSystem,
): Read<{ vehicle: VehicleInput; shown: VehicleOnPaper }> {
  const refusals = new Refusals();
  const { refuse } = refusals;
  const shown = shownIn(fields, refuse);
  const refrigerant =
    oneOf(REFRIGERANTS, fields.refrigerant) ?? refuse("refrigerant", "Choose the refrigerant on the hood label");
  const nameplate_g = readNameplate(fields.nameplate, units) ?? refuse("nameplate", NAMEPLATE_NEEDED);
  const typed = wordsOf(fields, { label: MAX_LABEL_CHARS }, refuse)("label");
  const named = [shown.words, shown.plate].filter((part) => part !== "").join(", ");
  const label = typed === "" ? [...(named === "" ? customer_name : named)].slice(0, MAX_LABEL_CHARS).join("") : typed;
  if (refrigerant === undefined || nameplate_g === undefined) return { ok: false, errors: refusals.inOrder(VEHICLE) };
  return settled(refusals, VEHICLE, { vehicle: { ...NEW_VEHICLE, label, refrigerant, nameplate_g }, shown });
}

type Refuse = (field: string, message: string) => undefined;

function wordsOf<Name extends string>(
  fields: Readonly<Record<NoInfer<Name>, string>>,
  most: Readonly<Record<Name, number>>,
  refuse: Refuse,
) {
  return (name: Name): string => {
    const read = readWords(fields[name], most[name]);
    if ("words" in read) return read.words ?? "";
    refuse(name, read.message);
    return "";
  };
}

function shownIn(fields: Omit<ParticularsFields, "customer_id">, refuse: Refuse): VehicleOnPaper {
  const words = wordsOf(fields, PARTICULARS_CHARS, refuse);
  const vin = readTypedVin(fields.vin);
  if ("message" in vin) refuse("vin", vin.message);
  return {
    words: words("words"),
    plate: words("plate"),
    vin: "vin" in vin ? vin.vin : "",
    odometer: words("odometer"),
  };
}

function settled<Input>(refusals: Refusals, order: readonly string[], input: Input): Read<Input> {
  const errors = refusals.inOrder(order);
  return errors.length > 0 ? { ok: false, errors } : { ok: true, input };
}
