import { formatDate } from "../../src/core/quantities/dates.ts";
import type { LogEntry } from "../../src/core/question/contract.ts";
import { saidExactMass } from "../words/numbers.ts";
import type { Outcome } from "./outcome.ts";

/** Top-offs of more than the system holds: a slip, or an overcharge, which cools poorly as well. */
export function Overfilled({ outcome: { question, units } }: { outcome: Outcome }) {
  const said = question.log
    .filter((entry) => isOverfill(entry, question.nameplate_g))
    .map(({ date, added_g }) => `${saidExactMass(added_g ?? 0, units)} on ${formatDate(date)}`);
  if (said.length === 0) return null;
  return (
    <p class="note" id="overfilled">
      Check the amount: {said.join(", ")} is more than the {saidExactMass(question.nameplate_g, units)} it holds. If
      that much went in, it was overfilled: too much also cools poorly, and it can damage the compressor.
    </p>
  );
}

/** More went in than it holds, on top of what was left: neither emptied before nor charged by weight. */
function isOverfill({ added_g, recovered_g, finish, repair, cooling }: LogEntry, nameplate_g: number): boolean {
  if (recovered_g != null || finish === "weighed" || repair != null || cooling === "empty") return false;
  return (added_g ?? 0) > nameplate_g;
}
