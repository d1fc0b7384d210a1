import { describe, expect, test } from "vitest";
import { assess } from "../../src/core/assess.ts";
import { parseComingDay } from "../../src/core/quantities/parse-coming-day.ts";
import { parseDate } from "../../src/core/quantities/parse-date.ts";
import { parseMass } from "../../src/core/quantities/parse-mass.ts";
import { parseWhen } from "../../src/core/quantities/parse-when.ts";
import { saidWhen } from "../../src/core/quantities/said-when.ts";
import { readVin } from "../../src/core/quotes/vin.ts";
import { judgeReadings } from "../../src/core/readings/judge.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import { readSource, sourceFiles } from "../support/sources.ts";

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

/** The files with examples, and what an example may use. */
const FILES: Readonly<Record<string, () => Promise<Record<string, unknown>>>> = {
  "src/core/assess.ts": async () => ({ assess }),
  "src/core/readings/judge.ts": async () => ({ judgeReadings }),
  "src/core/quantities/parse-mass.ts": async () => ({ parseMass }),
  "src/core/quantities/parse-date.ts": async () => ({ parseDate }),
  "src/core/quantities/parse-coming-day.ts": async () => ({ parseComingDay }),
  "src/core/quantities/parse-when.ts": async () => ({ parseWhen }),
  "src/core/quantities/said-when.ts": async () => ({ saidWhen }),
  "src/core/quotes/vin.ts": async () => ({ readVin }),
  "src/store/sql.ts": async () => ({ sql: await openDatabase(":memory:") }),
};

describe("what a newcomer calls first does what its example shows", () => {
  test.each(Object.entries(FILES))("%s", async (file, scope) => {
    const examples = examplesOf(file);
    expect(examples).not.toEqual([]);
    for (const { call, shown } of examples) {
      const [result, expected] = [await run(call, await scope()), await run(shown, {})];
      if (typeof expected === "object") expect(result).toMatchObject(expected as object);
      else expect(result).toBe(expected);
    }
  });

  test("every example of core and store is run", () => {
    const with_example = sourceFiles("src/core", "src/store").filter((file) => readSource(file).includes("@example"));
    expect(new Set(with_example)).toEqual(new Set(Object.keys(FILES)));
  });
});
