import { describe, expect, test } from "vitest";
import { Database } from "./database.ts";
import { engines } from "./engines.ts";

const LONG = "a".repeat(500_000);

/** A file whose text goes on once `goOn` does, or breaks off there when that throws. */
async function* inTwo(goOn: () => Promise<void> = async () => {}): AsyncGenerator<string> {
  yield LONG;
  await goOn();
  yield LONG;
}

const file = (name: string, text: AsyncIterable<string>) => [{ name, text, answers: {} }];

async function textOf(text: AsyncIterable<string>): Promise<string> {
  let whole = "";
  for await (const part of text) whole += part;
  return whole;
}

describe.each(engines)("files that wait, on $name", ({ start }) => {
  const database = new Database(start);

  test("a long one is stored in parts and comes back whole", async () => {
    const store = await database.newStore();
    const id = await store.imports.keep(file("fleet.csv", inTwo()));
    expect(await store.imports.get(id)).toMatchObject({ files: [{ name: "fleet.csv" }], report: null });
    expect(await textOf(store.imports.text(id, 0))).toBe(LONG + LONG);
  });

  test("of two that come at once the later one stays, and who sent the other is told", async () => {
    const store = await database.newStore();
    const gate = Promise.withResolvers<void>();
    const first = store.imports.keep(
      file(
        "first.csv",
        inTwo(() => gate.promise),
      ),
    );
    await expect.poll(async () => (await partsOf(store.workspaceId)) > 0).toBe(true);
    const second = await store.imports.keep(file("second.csv", inTwo()));
    gate.resolve();
    await expect(first).rejects.toMatchObject({ code: "changed" });
    expect(await textOf(store.imports.text(second, 0))).toBe(LONG + LONG);
  });

  test("what is left of one that broke off names no file, and goes with the next", async () => {
    const store = await database.newStore();
    const breaks = async () => {
      throw new Error("gone");
    };
    await expect(store.imports.keep(file("broken.csv", inTwo(breaks)))).rejects.toThrow("gone");
    const rows = () =>
      database.sql.all<{ files: string }>("SELECT files FROM imports WHERE workspace_id = ?", [store.workspaceId]);
    expect(await rows()).toEqual([{ files: "[]" }]);
    await store.imports.keep(file("next.csv", inTwo()));
    expect((await rows()).map(({ files }) => JSON.parse(files))).toEqual([[{ name: "next.csv" }]]);
    expect(await partsOf(store.workspaceId)).toBe(3);
  });

  async function partsOf(workspace_id: string): Promise<number> {
    const [row] = await database.sql.all<{ parts: number }>(
      "SELECT count(*) AS parts FROM import_parts WHERE workspace_id = ?",
      [workspace_id],
    );
    return row!.parts;
  }
});
