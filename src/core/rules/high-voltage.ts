import type { AssessRequest } from "../question/contract.ts";

/**
 * The same question for a compressor that high voltage drives (hybrid, electric): a shop's work at a shop's prices, and
 * no dye, whose oil may conduct; only the compressor's own oil belongs in such a system (common practice, no source).
 */
export function underHighVoltage(request: AssessRequest): AssessRequest {
  const barred = new Set(request.plan?.barred ?? []).add("dye-test");
  return { ...request, plan: { ...request.plan, service: "shop", barred: [...barred] } };
}
