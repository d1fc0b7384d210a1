import { expect, test } from "vitest";
import { needsRoom, Room } from "../../../src/web/edge/room.ts";

/** A room of 100 MB for each, in a file of `all` MB, of which a workspace has what is said. */
function room({ all = 1000, taken = {} as Record<string, number> } = {}) {
  let ms = Date.parse("2026-05-01T12:00:00Z");
  const measured: string[] = [];
  const made = new Room({
    limit_bytes: 100e6,
    most: () => all * 1e6,
    measure: async (workspace_id) => {
      measured.push(workspace_id);
      return (taken[workspace_id] ?? 0) * 1e6;
    },
    now: () => new Date(ms),
  });
  const take = (workspace_id: string, mb: number) =>
    made.take(workspace_id, mb * 1e6).then(
      () => "taken",
      (error: Error) => error.message,
    );
  return { take, measured, taken, wait: (by_ms: number) => (ms += by_ms) };
}

test("nothing is measured as long as all of them together take less than one may", async () => {
  const { take, measured } = room({ all: 90 });
  expect([await take("a", 10), measured]).toEqual(["taken", []]);
});

test("what is added counts, and who has no room is told how much there is and what still works", async () => {
  const { take, measured } = room({ taken: { a: 60 } });
  expect([await take("a", 30), await take("b", 30), await take("a", 0.001)]).toEqual(["taken", "taken", "taken"]);
  expect(await take("a", 30)).toMatch(
    /^These records take 90 MB of the 100 MB that there is room for, so nothing of this was saved\. This would have added 30 MB\. Viewing, exporting and deleting still work/,
  );
  expect(measured).toEqual(["a", "b"]);
});

test("whoever deletes something is measured again, and an old measurement does not hold", async () => {
  const { take, taken, wait, measured } = room({ taken: { a: 100 } });
  expect(await take("a", 1)).toMatch(/^These records take 100 MB/);
  taken.a = 50;
  expect(await take("a", 1)).toMatch(/^These records take 100 MB/);
  wait(3000);
  expect(await take("a", 1)).toBe("taken");
  wait(3_600_000);
  taken.a = 100;
  expect(await take("a", 1)).toMatch(/^These records take 100 MB/);
  expect(measured).toHaveLength(3);
});

test("a clock that is set back makes no measurement hold for longer", async () => {
  const { take, taken, wait } = room({ taken: { a: 10 } });
  expect(await take("a", 1)).toBe("taken");
  wait(-24 * 3_600_000);
  taken.a = 100;
  expect(await take("a", 1)).toMatch(/^These records take 100 MB/);
});

test("what makes room or keeps nothing needs none", () => {
  const free = [
    ...["/settings/erase", "/customers/x/erasure", "/vehicles/x/notes/y/removals", "/vehicles/examples/removal"],
    ...["/vehicles/x/archive", "/vehicles/x/quotes/y/discard", "/settings/access/x/revocation", "/leave"],
    ...["/fleet/import/x/undo", "/fleet/import/x/back", "/settings/import", "/api/assess"],
  ];
  for (const path of free) expect([path, needsRoom("POST", path)]).toEqual([path, false]);
  expect(needsRoom("DELETE", "/api/vehicles/x/notes/y")).toBe(false);
  for (const path of ["/vehicles", "/fleet/import", "/settings/import/confirm", "/api/vehicles", "/vehicles/x/notes"])
    expect([path, needsRoom("POST", path)]).toEqual([path, true]);
});
