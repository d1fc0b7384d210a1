import { expect, test } from "vitest";
import { FINDING_WORDS } from "../../views/readings/finding-words.ts";

test("whoever is sent to the fan stops the engine and takes away the fan's power first", () => {
  const near_a_fan = Object.values(FINDING_WORDS).filter((words) => /\bfan\b.*\breach\b/.test(JSON.stringify(words)));
  expect(near_a_fan.length).toBeGreaterThan(0);
  for (const words of near_a_fan) {
    const text = JSON.stringify(words);
    expect(text).toContain("Turn the engine off and pull the fan fuse before you reach near the fan.");
    expect(text).toContain("It can start by itself, even with the engine off.");
  }
});
