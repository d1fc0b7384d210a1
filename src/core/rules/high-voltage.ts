import type { AssessRequest } from "../question/contract.ts";

/** What drives the compressor, as far as it decides who may work on it and with what. */
export interface Drive {
  /** High voltage drives it (hybrid, electric). */
  electric: boolean;
  /** There is leak dye in the compressor's own oil; absent: nobody said. */
  dye_in_own_oil?: boolean | null;
}

/**
 * The request for a compressor driven by high voltage: work for a shop, at a shop's prices, and no dye unless it is
 * made up in the compressor's own oil, because other oil may conduct (common practice, no source).
 */
export function underHighVoltage(request: AssessRequest, { dye_in_own_oil }: Omit<Drive, "electric">): AssessRequest {
  const barred = new Set(request.plan?.barred ?? []);
  if (dye_in_own_oil !== true) barred.add("dye-test");
  return { ...request, plan: { ...request.plan, service: "shop", barred: [...barred] } };
}
