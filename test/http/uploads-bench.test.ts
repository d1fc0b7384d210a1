import { expect, test } from "vitest";
import { uploadsBench } from "../bench/uploads.bench.ts";

/** The bench runs on demand; here at its tiniest, so that it cannot rot. Nothing is timed. */
test("the bench of large uploads sends each of its files", async () => {
  const found = await uploadsBench({ vehicles: 3, chars: 20_000 });
  expect(found.map(({ name }) => name.split(",")[0])).toEqual([
    "nothing sent",
    "a full file of rows",
    "a full file of no use",
    "a full export of no use",
    "3 vehicles: file",
    "3 vehicles: report",
    "3 vehicles: taken",
    "3 vehicles: export",
    "3 vehicles: look at the export",
    "3 vehicles: import of the export",
  ]);
});
