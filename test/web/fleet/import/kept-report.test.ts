import { expect, test } from "vitest";
import { keptReport, keptUndone } from "../../../../src/web/fleet/import/kept-report.ts";

test("a kept report that lacks something, or has something else there, has nothing there", () => {
  const empty = keptReport({});
  expect(empty).toMatchObject({ files: [], good: 0, asides: 0, aside_rows: [], counts: { vehicles_added: 0 } });
  const said = { files: [{ name: "May.csv", rows: 3, refused: 0, not_taken: [] }], good: 3, asides: 1, repeated: 0 };
  expect(keptReport({ ...said, aside_rows: 5, counts: null, samples: [{ file: "x" }] })).toMatchObject({
    ...said,
    aside_rows: [],
    counts: empty.counts,
    samples: [{ file: 0, row: 0, vehicle: "" }],
  });
  expect(keptUndone({ entries_removed: 2, vehicles_kept: -1 })).toMatchObject({ entries_removed: 2, vehicles_kept: 0 });
});
