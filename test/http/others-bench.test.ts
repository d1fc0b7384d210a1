import { expect, test } from "vitest";
import { othersBench } from "../bench/others.bench.ts";

/** The bench runs on demand; here at its tiniest, so that it cannot rot. Nothing is timed. */
test("the bench of what others wait hammers with new questions, and has a list and a calendar worked out", async () => {
  const found = await othersBench({ vehicles: 3, pages: 5 });
  expect(found.map(({ name }) => name.split(":")[0])).toEqual([
    "nothing else",
    "50 ask new questions, from one address",
    "50 ask new questions, each from an address of its own",
    "a list of follow-ups is worked out for 3 vehicles",
    "a calendar is worked out for 3 vehicles",
  ]);
});
