import { GWP_DATA } from "../../data/gwp.ts";
import {
  assumptionParameters,
  locationColumns,
  type NumberParameter,
  planParameters,
  priceParameters,
} from "../../data/parameters.ts";
import { GWP_SETS, LOCATION_IDS, OTHER_TROUBLE, SERVICES } from "../../src/core/question/contract.ts";
import type { Choice } from "../parts/field.tsx";
import { SERVICE_CHOICES } from "../start/quick-fields.ts";
import { PLACE_NAMES } from "../words/places.ts";

/** The details of a vehicle as they were typed, by the name of the field; one that is absent is empty. */
export type DetailsFields = Readonly<Record<string, string | undefined>>;

/** A number that a vehicle may have otherwise than usual. Its name is its path in the request to the model. */
export interface NumberDetail {
  name: string;
  label: string;
  unit: string;
}

export const PLAN_NUMBERS = details("plan", planParameters);
export const PRICE_NUMBERS = details("prices", priceParameters);
export const ASSUMPTION_NUMBERS = details("assumptions", assumptionParameters);
export const REPAIR_PRICES: readonly NumberDetail[] = LOCATION_IDS.map((id) => ({
  name: `prices.locations.${id}.price`,
  label: `Repair: ${PLACE_NAMES[id].name.toLowerCase()}`,
  unit: locationColumns.price.unit,
}));

export const NUMBERS: readonly NumberDetail[] = [
  ...PLAN_NUMBERS,
  ...PRICE_NUMBERS,
  ...REPAIR_PRICES,
  ...ASSUMPTION_NUMBERS,
];

function details(part: string, parameters: Readonly<Record<string, NumberParameter>>): NumberDetail[] {
  return Object.entries(parameters).map(([name, { label, unit }]) => ({
    name: `${part}.${name}`,
    label,
    unit,
  }));
}

/** A choice that a vehicle may have otherwise than usual. */
export interface ChoiceDetail {
  name: string;
  label: string;
  choices: readonly Choice[];
}

export const PLAN_CHOICES: readonly ChoiceDetail[] = [
  {
    name: "plan.service",
    label: "Who tops it off",
    choices: SERVICES.map((id) => SERVICE_CHOICES.find(({ value }) => value === id)!),
  },
  {
    name: "plan.tools_owned",
    label: "Hose, gauge and gloves",
    choices: [
      { value: "yes", label: "Are there already" },
      { value: "no", label: "Would be bought" },
    ],
  },
  {
    name: "plan.other_trouble",
    label: "Other trouble with the system",
    choices: OTHER_TROUBLE.map((id) => ({
      value: id,
      label: { none: "None", some: "Some", "compressor-failing": "The compressor is failing" }[id],
    })),
  },
  {
    name: "plan.gwp",
    label: "Warming potentials of",
    choices: GWP_SETS.map((id) => ({
      value: id,
      label: GWP_DATA[id].name,
    })),
  },
];

export const PRICE_CHOICES: readonly ChoiceDetail[] = [
  {
    name: "prices.can_seal",
    label: "Cans are",
    choices: [
      { value: "self-sealing", label: "Self-sealing: what is left keeps" },
      { value: "pierced", label: "Pierced: once open, used up" },
    ],
  },
];

export const CHOICES: readonly ChoiceDetail[] = [...PLAN_CHOICES, ...PRICE_CHOICES];
