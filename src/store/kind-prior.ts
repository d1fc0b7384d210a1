import { leakPriorOf } from "../../data/leak-priors.ts";
import { VEHICLE_KINDS } from "../core/question/contract.ts";

/** What is believed of a leak by the kind of vehicle in the column `kind`, in SQL: one of the lists below is bound. */
export function kindPrior(kind: string): string {
  return `CASE ${kind} ${VEHICLE_KINDS.map((one) => `WHEN '${one}' THEN ?`).join(" ")} ELSE ? END`;
}

const priors = [...VEHICLE_KINDS, null].map(leakPriorOf);

/** Parameters for `kindPrior`. They are bound because a number in the text of a statement may be read with rounding. */
export const KIND_PRIOR_PARAMS = {
  mean: priors.map(({ ln_x_mean }) => ln_x_mean),
  sd: priors.map(({ ln_x_sd }) => ln_x_sd),
} as const;
