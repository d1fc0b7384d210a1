import type { RefrigerantId } from "../../src/core/question/contract.ts";
import type { CylinderCondition } from "../../src/core/refrigerant/cylinders.ts";
import { fieldOf, type Messages, SelectField, TextField } from "../parts/field.tsx";
import type { RefrigerantWorkFields } from "./refrigerant-fields.ts";

/** A cylinder that can be chosen. */
export interface ChosenCylinder {
  id: string;
  name: string;
  refrigerant: RefrigerantId;
  condition: CylinderCondition;
}

export const CONDITION_NAMES: Readonly<Record<CylinderCondition, string>> = {
  new: "New",
  reclaimed: "Reclaimed",
  recovered: "Recovered",
};

interface WorkFieldsProps {
  fields: RefrigerantWorkFields;
  messages: Messages;
  /** Those in use. */
  cylinders: readonly ChosenCylinder[];
  refrigerant: RefrigerantId;
}

/** Who worked on the refrigerant, and with which cylinders: what the refrigerant log asks for beside the amounts. */
export function RefrigerantWorkInputs({ fields, messages, cylinders, refrigerant }: WorkFieldsProps) {
  const of = fieldOf<RefrigerantWorkFields>(fields, messages);
  const same = cylinders.filter((cylinder) => cylinder.refrigerant === refrigerant);
  const choices = (which: (condition: CylinderCondition) => boolean, none: string) => [
    { value: "", label: none },
    ...same
      .filter(({ condition }) => which(condition))
      .map(({ id, name, condition }) => ({ value: id, label: `${name}, ${CONDITION_NAMES[condition].toLowerCase()}` })),
  ];
  return (
    <div class="field-grid">
      <TextField {...of("technician")} label="Technician" words />
      <TextField {...of("certificate")} label="Certificate" hint="Its number, as your place asks for it" />
      <SelectField
        {...of("recovered_into")}
        label="Recovered into cylinder"
        choices={choices((condition) => condition === "recovered", "None named")}
      />
      <SelectField
        {...of("charged_from")}
        label="Charged from cylinder"
        hint="New and reclaimed first; recovered for the same owner only, where your rules allow it"
        choices={choices(() => true, "None named, or cans")}
      />
    </div>
  );
}
