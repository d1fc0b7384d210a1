import { judgeReadings } from "../../src/core/readings/judge.ts";
import type { ReadingsJudgement } from "../../src/core/readings/readings-contract.ts";
import { FINDING_IDS } from "../../src/core/readings/readings-contract.ts";
import { MAY_SAY, NAMES, PUBLISHED_CASES, type PublishedCase, TROUBLES } from "./readings-cases.ts";

function judgedCase({ readings }: PublishedCase): ReadingsJudgement {
  const answer = judgeReadings(readings);
  if (answer.kind !== "judgement") throw new Error("asked instead of judging");
  return answer;
}

/** What is believed of low charge and nearly empty together. */
export function shareOfLow({ findings }: Pick<ReadingsJudgement, "findings">): number {
  let low = 0;
  for (const { id, probability } of findings) if (id === "low-charge" || id === "nearly-empty") low += probability;
  return low;
}

/**
 * Wrong: the likeliest cause is none that names the trouble. `says` wrong: low of what is not, or not low of what is.
 */
export function verdictOf(one: PublishedCase) {
  const judgement = judgedCase(one);
  const top = judgement.findings[0]!;
  const first_right = NAMES[one.trouble].includes(judgement.first);
  return {
    judgement,
    first_right,
    says_right: MAY_SAY[one.trouble].includes(judgement.says),
    sure_and_wrong: !first_right && top.probability >= 0.8,
  };
}

/** A table in Markdown: rows are what is the matter, columns the first finding and what is said. */
export function confusionTable(cases: readonly PublishedCase[] = PUBLISHED_CASES): string {
  const columns = [...FINDING_IDS, "undecided"] as const;
  const lines = [
    `| trouble (cases) | ${columns.join(" | ")} | says low | says not low | says wrong | wrong and ≥ 0.8 sure |`,
    `|---|${columns.map(() => "--:|").join("")}--:|--:|--:|--:|`,
  ];
  for (const trouble of TROUBLES) {
    const rows = cases.filter((one) => one.trouble === trouble).map(verdictOf);
    if (rows.length === 0) continue;
    const count = (is: (row: (typeof rows)[number]) => boolean) => rows.filter(is).length || "";
    lines.push(
      `| ${trouble} (${rows.length}) | ${columns.map((id) => count(({ judgement }) => judgement.first === id)).join(" | ")} | ${[
        count(({ judgement }) => judgement.says === "low"),
        count(({ judgement }) => judgement.says === "not-low"),
        count(({ says_right }) => !says_right),
        count(({ sure_and_wrong }) => sure_and_wrong),
      ].join(" | ")} |`,
    );
  }
  return lines.join("\n");
}
