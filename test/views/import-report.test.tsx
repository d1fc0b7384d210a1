import { expect, test } from "vitest";
import { keptReport } from "../../src/web/fleet/import/kept-report.ts";
import { ReportPage } from "../../views/fleet/import-report.tsx";

test.each([
  [{ good: 0, mended: 1, refused: 1, counts: { vehicles_added: 1 } }, "1 row can be imported, 1 cannot"],
  [{ good: 24, refused: 1, entries_read: 24 }, "Nothing new, and 1 row rejected"],
  [{ good: 2, refused: 3, entries_read: 2 }, "Nothing new, and 3 rows rejected"],
  [{ good: 1, refused: 1 }, "No entries could be read, and 1 row rejected"],
])("a report says how many rows, as one says it: %j", async (read, title) => {
  const page = await ReportPage({ ...keptReport(read), id: "1", taken: null, asset: (name: string) => name });
  expect(page.toString()).toContain(`>${title}</h1>`);
});

test("what was taken back, and what is kept, is said of one as of many", async () => {
  const undone = { entries_removed: 1, entries_restored: 0, vehicles_removed: 1, vehicles_restored: 1 };
  const taken = { day: "2026-05-01", who: "this machine", undone: null };
  const again = {
    ...taken,
    undone: { ...undone, day: "2026-05-02", who: "this machine", entries_kept: 1, vehicles_kept: 2 },
  };
  const page = await ReportPage({ ...keptReport({ good: 1 }), id: "1", taken: again, asset: (name: string) => name });
  const words = page.toString().replaceAll(/<[^>]+>/g, "");
  expect(words).toContain("1 entry and 1 vehicle removed, changes undone: 1.");
  expect(words).toContain("Kept: 1 entry, changed since or part of recorded work.");
  expect(words).toContain("Kept: 2 vehicles, changed since or with other entries, quotes or notes.");
});
