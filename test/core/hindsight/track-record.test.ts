import { describe, expect, test } from "vitest";
import { hindsight } from "../../../data/hindsight.ts";
import { type Prediction, replayed } from "../../../src/core/hindsight/replay.ts";
import { heldBy, trackRecord } from "../../../src/core/hindsight/track-record.ts";
import { NAMEPLATE_G, ownLogs } from "../../support/own-generator.ts";

/** A charge of 1 January 2024 that was low again `days` later, said to be low 300 days later. */
function came(days: number, more: Partial<Prediction> = {}): Prediction {
  const date = (after: number) => new Date(Date.UTC(2024, 0, 1 + after)).toISOString().slice(0, 10);
  return {
    from: "2024-01-01",
    until: date(days),
    ended: "seen",
    low_on: date(days),
    p05: date(100),
    p50: date(300),
    p95: date(900),
    chance: 0.5,
    by_rule: null,
    ...more,
  };
}

const lost = (chance: number): Prediction => came(10, { ended: "open", low_on: null, chance });
const times = <One>(count: number, one: One): One[] => Array.from({ length: count }, () => one);

describe("how well past predictions did", () => {
  test("is counted by where they came, and those that have not come count as far as they were followed", () => {
    const some = [
      ...times(18, came(300)),
      came(10, { chance: 0.01 }),
      came(2000, { chance: 0.99 }),
      ...times(5, lost(0.02)),
    ];
    const { charges, came: low, open, overdue, known, inside, early, late } = trackRecord(some);
    expect({ charges, low, open, overdue, known }).toEqual({ charges: 25, low: 20, open: 5, overdue: 0, known: 20 });
    // By hand: of 25 one ends at 0.01, so 24/25 go on; the five go away at 0.02; 18 of the 19 left end in the range.
    expect(early).toBeCloseTo(1 / 25, 10);
    expect(inside!.share).toBeCloseTo((24 / 25) * (18 / 19), 10);
    expect(late).toBeCloseTo((24 / 25) * (1 / 19), 10);
  });

  test("is not said where too few are known", () => {
    const few = trackRecord(times(hindsight.share_least - 1, came(300)));
    expect(few).toMatchObject({ known: 19, inside: null, early: null, late: null });
    expect(few.off).toMatchObject({ charges: 19, mean: 0 });
    expect(trackRecord([])).toMatchObject({ charges: 0, known: 0, inside: null, off: null, compared: null });
  });

  test("takes one past the end of its range as outside, though it has not come", () => {
    expect(heldBy(lost(0.97))).toBe("late");
    expect(heldBy(lost(0.5))).toBeNull();
    expect(heldBy(came(300))).toBe("inside");
    expect(heldBy(came(10, { chance: 0.01 }))).toBe("early");
    const { overdue, known, inside } = trackRecord([...times(19, came(300)), lost(0.97)]);
    expect({ overdue, known }).toEqual({ overdue: 1, known: 20 });
    expect(inside!.share).toBeCloseTo(0.95, 10);
  });

  test("is measured in months, mean and median, with the side on which it errs", () => {
    // Of 300 days said: 60 days early, 30 late, 180 late. A month is 30.4375 days.
    const { off } = trackRecord([came(240), came(330), came(480)]);
    expect(off!.mean).toBeCloseTo((60 + 30 + 180) / 3 / 30.4375, 10);
    expect(off!.median).toBeCloseTo(60 / 30.4375, 10);
    expect(off!.later).toBeCloseTo((-60 + 30 + 180) / 3 / 30.4375, 10);
  });

  test("names who came nearer on the same charges, also when it is the simple rule, and when it may be chance", () => {
    const ruled = (days: number, by_rule: string) => came(days, { by_rule });
    // 300 days after 1 January 2024 is 27 October 2024; 24 November is 28 days later.
    const rule_right = times(20, ruled(328, "2024-11-24"));
    expect(trackRecord(rule_right).compared).toMatchObject({
      charges: 20,
      rule: { mean: 0 },
      model_nearer: 0,
      rule_nearer: 20,
      better: "rule",
    });
    const model_right = times(20, ruled(300, "2024-11-24"));
    expect(trackRecord([...model_right, ...times(30, came(100))]).compared).toMatchObject({
      charges: 20,
      model: { mean: 0 },
      better: "model",
    });
    expect(trackRecord([...rule_right, ...model_right]).compared).toMatchObject({ charges: 40, better: "open" });
    expect(trackRecord(rule_right.slice(0, 9)).compared).toMatchObject({ charges: 9, better: "few" });
  });
});

test("in lives as the model believes them, nine of ten come inside the range, half before the middle", () => {
  const predicted = ownLogs({ vehicles: 160, seed: 1, as_of: "2026-05-01" }).flatMap((own) =>
    replayed({ as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: NAMEPLATE_G }, log: own }),
  );
  const { came, inside, early, late } = trackRecord(predicted);
  expect(came).toBeGreaterThan(350);
  // Binomial: of 400, a share of 0.9 lies within 0.86 and 0.94 in 99 of 100 cases, one of 0.05 within 0.025 and 0.08.
  expect(inside!.share).toBeGreaterThan(0.86);
  expect(inside!.share).toBeLessThan(0.94);
  expect(early).toBeGreaterThan(0.02);
  expect(early).toBeLessThan(0.08);
  expect(late).toBeLessThan(0.1);
}, 60_000);
