import { PLACES } from "../../data/rules.ts";
import type { Choice } from "../parts/field.tsx";

/** The places whose rules we know. */
export const WHERE_CHOICES: readonly Choice[] = Object.entries(PLACES).map(([id, { name }]) => ({
  value: id,
  label: name,
}));
