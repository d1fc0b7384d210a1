import { priceParameters } from "../../../data/parameters.ts";
import { LIKELY_REFRIGERANTS } from "../../../data/typical-charges.ts";
import { isBlank, type LogLineFields, type QuickFields } from "../../../views/start/quick-fields.ts";
import { formatMass } from "../../core/quantities/format.ts";
import { parseMass } from "../../core/quantities/parse-mass.ts";
import { parseWhen } from "../../core/quantities/parse-when.ts";
import { massReadBack, whenReadBack } from "../../core/quantities/read-back.ts";
import { isUnknown } from "../../core/quantities/typed-number.ts";
import { REFRIGERANTS } from "../../core/question/contract.ts";
import { oneOf } from "../forms/typed-values.ts";
import { whenContext } from "./quick-log.ts";

/**
 * How each line of the quick question was read, to stand on it: `about mid-June 2024 · 12 oz`. Null where the line says
 * just that already, or cannot be read.
 */
export function readBackOf(fields: QuickFields): (string | null)[] {
  return fields.lines.map((line) => {
    if (isBlank(line)) return null;
    const when = parseWhen(line.when, whenContext(fields));
    if (!when.ok) return null;
    const amount = readAmount(line, fields);
    const new_words = [whenReadBack(line.when, when), amount.new_words];
    if (new_words.every((words) => words === null)) return null;
    return [when.said, ...(amount.said === null ? [] : [amount.said])].join(" · ");
  });
}

/** An amount in words, and the words once more where they say something new. */
function readAmount({ amount }: LogLineFields, { units, refrigerant }: QuickFields) {
  if (isUnknown(amount)) return { said: UNKNOWN, new_words: UNKNOWN };
  // What a can holds depends on the refrigerant; where that is open, a can is a can.
  const named = oneOf(REFRIGERANTS, refrigerant);
  const could_be = named === undefined ? LIKELY_REFRIGERANTS.map(({ id }) => id) : [named];
  const read = could_be.map((id) =>
    parseMass(amount, { system: units, can_net_g: priceParameters.can_net_g.default[id] }),
  );
  const [mass] = read;
  if (!mass?.ok || read.some((other) => !other.ok || other.grams !== mass.grams))
    return { said: null, new_words: null };
  const new_words = massReadBack(amount, mass, units);
  return { said: new_words ?? formatMass(mass.grams, units), new_words };
}

const UNKNOWN = "amount not known";
