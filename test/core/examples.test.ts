import { describe, expect, test } from "vitest";
import { assess } from "../../src/core/assess.ts";
import { parseDate } from "../../src/core/quantities/parse-date.ts";
import { parseMass } from "../../src/core/quantities/parse-mass.ts";
import { parseWhen } from "../../src/core/quantities/parse-when.ts";
import { judgeReadings } from "../../src/core/readings/judge.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import { readSource } from "../support/sources.ts";

/** An example is a call, and behind `//` what of its result is shown. */
interface Example {
  call: string;
  shown: string;
}

/** The examples in the comments of a file. */
function examplesOf(file: string): Example[] {
  const blocks = readSource(file).matchAll(/@example\n((?: \* ?.*\n)+?) \*\//g);
  return Array.from(blocks, ([, block]) => {
    const [call, ...shown] = block!.replace(/^ \* ?/gm, "").split("//");
    return { call: call!.trim(), shown: shown.join(" ").trim() };
  });
}

async function run(text: string, scope: Record<string, unknown>): Promise<unknown> {
  // The examples are those of our own files.
  const asked = new Function(...Object.keys(scope), `return (async () => (${text}))();`);
  return asked(...Object.values(scope));
}

describe("what a newcomer calls first does what its example shows", () => {
  test.each([
    { file: "src/core/assess.ts", scope: async () => ({ assess }) },
    { file: "src/core/readings/judge.ts", scope: async () => ({ judgeReadings }) },
    { file: "src/core/quantities/parse-mass.ts", scope: async () => ({ parseMass }) },
    { file: "src/core/quantities/parse-date.ts", scope: async () => ({ parseDate }) },
    { file: "src/core/quantities/parse-when.ts", scope: async () => ({ parseWhen }) },
    { file: "src/store/sql.ts", scope: async () => ({ sql: await openDatabase(":memory:") }) },
  ])("$file", async ({ file, scope }) => {
    const examples = examplesOf(file);
    expect(examples).not.toEqual([]);
    for (const { call, shown } of examples) {
      const [result, expected] = [await run(call, await scope()), await run(shown, {})];
      expect(result).toMatchObject(expected as object);
    }
  });
});
