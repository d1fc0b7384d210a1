import { expect, test } from "vitest";
import { pageAnswer } from "../../src/core/page-answer.ts";
import { localRules } from "../../src/core/rules/local-rules.ts";
import { AnswerGrounds } from "../../views/answer/answer.tsx";
import { outcomeOf } from "../../views/answer/outcome.ts";
import { carRequest, toppedOffEvery } from "../core/samples.ts";

const page = (place: "ca-on" | "us") => {
  const request = carRequest(toppedOffEvery(700, 2));
  const local = localRules(request, place, "USD");
  return String(<AnswerGrounds outcome={outcomeOf(request, pageAnswer(request), "us", { local, found: null })} />);
};

test("where a rule known second-hand speaks against the answer, that comes before its reasons, and nothing is barred", () => {
  const warned = page("ca-on");
  expect(warned).toContain("Ask the authority first: as others tell it");
  expect(warned.indexOf("Ask the authority first")).toBeLessThan(warned.indexOf(">Why<"));
  expect(warned).not.toContain("not allowed here");
  expect(page("us")).not.toContain("Ask the authority first");
});

test("the cheapest repair stands before the options, with its price, its chance and its cautions", () => {
  const answer = page("us");
  const first = answer.slice(answer.indexOf('id="first-step"'), answer.indexOf(">The options<"));
  for (const words of ["new sealing caps", "$10", "15\u00a0of\u00a0100", "$70", "never push on the core"])
    expect(first).toContain(words);
});
