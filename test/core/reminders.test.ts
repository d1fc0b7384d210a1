import { describe, expect, test } from "vitest";
import { assess } from "../../src/core/assess.ts";
import type { AssessAnswer, Finding } from "../../src/core/question/contract.ts";
import { isOverdue, type RemindedEntry, type ReminderCase, remindersOf } from "../../src/core/reminders.ts";

/**
 * What is expected follows from the definitions: five weeks and two days (a tenth of a year, the model's wait for dye),
 * and the can deposit of California until the end of 2024, to be claimed within 90 days (17 CCR 95366, as in
 * data/rules.ts).
 */

const AS_OF = "2026-05-01";

const REAL_ANSWER = assess(
  { as_of: AS_OF, vehicle: { refrigerant: "R-134a", nameplate_g: 650 } },
  { sensitivity: false },
);

/** An answer with what reminders read, and the rest of a real one. */
function answerWith(changes: {
  next_low?: AssessAnswer["forecast"]["next_low"];
  verdict?: AssessAnswer["verdict"]["option"];
  watch_date?: string | null;
  repair_sure_date?: string | null;
  as_of?: string;
}): AssessAnswer {
  const answer = REAL_ANSWER;
  const { next_low = { p10: null, p50: null, p90: null }, verdict = "repair", watch_date = null } = changes;
  return {
    ...answer,
    as_of: changes.as_of ?? AS_OF,
    leak: { ...answer.leak, repair_sure_date: changes.repair_sure_date ?? null },
    forecast: { ...answer.forecast, next_low },
    options: answer.options.map((option) => (option.id === "top-off" ? { ...option, watch_date } : option)),
    verdict: { ...answer.verdict, option: verdict },
  };
}

function caseWith(changes: Partial<ReminderCase>): ReminderCase {
  const answer = changes.answer ?? answerWith({});
  const other = { log: [], findings: [], checks: [], place: null, can_net_g: 340 };
  return { answer, at_entry: answer, ...other, ...changes };
}

const CAN: RemindedEntry = { date: "2026-04-20", cooling: "weak", added_g: 340, added_by: "cans" };

describe("the next low charge", () => {
  const next_low = { p10: "2026-09-01", p50: "2027-02-01", p90: "2027-08-01" };

  test("is the window from 10 to 90 %", () => {
    expect(remindersOf(caseWith({ answer: answerWith({ next_low }), log: [CAN] }))).toEqual([
      { kind: "next-low", id: "next-low", date: "2026-09-01", likely: "2027-02-01", until: "2027-08-01" },
    ]);
  });

  test("stays while its window goes on", () => {
    const answer = answerWith({ next_low: { ...next_low, p10: AS_OF } });
    expect(remindersOf(caseWith({ answer, log: [CAN] }))).toMatchObject([{ kind: "next-low", date: AS_OF }]);
  });

  test("has no end where 90 % are not reached within 20 years", () => {
    const answer = answerWith({ next_low: { ...next_low, p90: null } });
    expect(remindersOf(caseWith({ answer, log: [CAN] }))).toMatchObject([{ until: null }]);
  });

  test.each([
    ["it is as likely as not low by now", { p10: AS_OF, p50: AS_OF, p90: "2026-08-01" }, [CAN]],
    ["it is not low within 20 years", { p10: null, p50: null, p90: null }, [CAN]],
    ["the middle is not reached", { p10: "2040-01-01", p50: null, p90: null }, [CAN]],
    ["nothing is known of this vehicle", next_low, []],
  ])("is no reminder when %s", (_why, dates, log) => {
    expect(remindersOf(caseWith({ answer: answerWith({ next_low: dates }), log }))).toEqual([]);
  });
});

describe("the watch date", () => {
  test("belongs to the answer to top off", () => {
    const watch_date = "2027-08-14";
    const withVerdict = (verdict: AssessAnswer["verdict"]["option"]) =>
      remindersOf(caseWith({ answer: answerWith({ verdict, watch_date }), log: [CAN] }));
    expect(withVerdict("top-off")).toEqual([{ kind: "watch", id: "watch", date: watch_date }]);
    for (const other of ["repair", "dye-test", "electronic-test", "check-first", null] as const)
      expect(withVerdict(other)).toEqual([]);
  });

  test.each([
    ["that is today has been watched", AS_OF, [CAN]],
    ["is no reminder while nothing is known of this vehicle", "2027-08-14", []],
  ])("%s", (_why, watch_date, log) => {
    expect(remindersOf(caseWith({ answer: answerWith({ verdict: "top-off", watch_date }), log }))).toEqual([]);
  });
});

describe("what was forgotten", () => {
  const top_off = { verdict: "top-off", watch_date: "2027-08-14" } as const;
  const later = answerWith({ as_of: "2029-01-01" });

  test("stays under its day, however long ago", () => {
    const at_entry = answerWith(top_off);
    expect(remindersOf(caseWith({ answer: later, at_entry, log: [CAN] }))).toContainEqual({
      kind: "watch",
      id: "watch",
      date: "2027-08-14",
    });
  });

  test("is over with a look up to two weeks early, and no earlier one", () => {
    const at_entry = answerWith(top_off);
    const watched = (date: string) =>
      remindersOf(caseWith({ answer: later, at_entry, log: [CAN, { date, cooling: "ok" }] })).length === 0;
    expect([watched("2027-07-30"), watched("2027-07-31")]).toEqual([false, true]);
  });

  test("is none of a system that was low the last time and has not been filled", () => {
    const at_entry = answerWith(top_off);
    const low: RemindedEntry = { date: "2026-04-28", cooling: "weak" };
    expect(remindersOf(caseWith({ at_entry, log: [CAN, low] }))).toEqual([]);
  });
});

describe("a dye inspection", () => {
  const clean = (date: string): Finding => ({ date, test: "dye", location: "anywhere", result: "clean" });
  const leak = (date: string): Finding => ({ date, test: "dye", location: "hose", result: "leak" });
  const inspection = { kind: "dye-inspection", id: "dye-inspection-2026-04-20", date: "2026-05-27" };
  const dyed: RemindedEntry = { ...CAN, dye: "added" };

  test("is due five weeks and two days after dye went in", () => {
    expect(remindersOf(caseWith({ log: [dyed] }))).toEqual([{ ...inspection, since: "2026-04-20", because: "added" }]);
  });

  test("is not called off by an early look that saw nothing", () => {
    expect(remindersOf(caseWith({ log: [dyed], findings: [clean("2026-04-25")] }))).toEqual([
      { ...inspection, since: "2026-04-25", because: "clean" },
    ]);
  });

  test("is done with a look after the wait", () => {
    const answer = answerWith({ as_of: "2026-05-27" });
    for (const look of [clean("2026-05-27"), leak("2026-05-27")])
      expect(remindersOf(caseWith({ answer, log: [dyed], findings: [look] }))).toEqual([]);
  });

  test("follows dye that was seen, at its place", () => {
    expect(remindersOf(caseWith({ findings: [leak("2026-04-20")] }))).toEqual([
      { ...inspection, since: "2026-04-20", because: "leak", location: "hose" },
    ]);
  });

  test("is over once it was repaired, and once its day has passed", () => {
    const repair: RemindedEntry = { date: "2026-04-30", finish: "weighed", repair: "hose" };
    const kinds = (given: Partial<ReminderCase>) => remindersOf(caseWith(given)).map(({ kind }) => kind);
    expect(kinds({ log: [dyed, repair], findings: [leak("2026-04-25")] })).toEqual(["repair-look"]);
    expect(kinds({ log: [dyed], answer: answerWith({ as_of: "2026-05-28" }) })).toEqual(["dye-inspection"]);
  });

  test("is not for another test", () => {
    const electronic: Finding = { date: "2026-04-20", test: "electronic", location: "anywhere", result: "clean" };
    expect(remindersOf(caseWith({ log: [CAN], findings: [electronic] }))).toEqual([]);
  });
});

describe("a can deposit", () => {
  const bought: RemindedEntry = { date: "2024-12-20", added_g: 500, added_by: "cans" };
  const at = (as_of: string) => ({ answer: answerWith({ as_of }), place: "us-ca" as const });
  // 90 days after 20 December 2024: 11 in December, 31, 28 and 20.
  const deposit = { kind: "can-deposit", date: "2025-03-20", bought: "2024-12-20", currency: "USD" };

  test("comes back until its last day, for the cans that the amount takes", () => {
    for (const as_of of ["2024-12-20", "2025-03-20"])
      expect(remindersOf(caseWith({ ...at(as_of), log: [bought] }))).toEqual([
        { ...deposit, id: "can-deposit-2024-12-20-0", cans: 2, deposit: 20 },
      ]);
    expect(remindersOf(caseWith({ ...at("2025-03-21"), log: [bought] }))).toEqual([]);
  });

  test("is as it was written down, wherever it was paid", () => {
    const entry = { ...CAN, cans_opened: 3, deposit: 6, deposit_return_by: "2026-06-30" };
    const written = { kind: "can-deposit", id: "can-deposit-2026-04-20-0", date: "2026-06-30", bought: "2026-04-20" };
    expect(remindersOf(caseWith({ log: [entry] }))).toEqual([{ ...written, cans: 3, deposit: 6, currency: null }]);
    const unsaid = { ...entry, cans_opened: null, deposit: null };
    expect(remindersOf(caseWith({ log: [unsaid] }))).toMatchObject([{ cans: 1, deposit: null }]);
  });

  test("of two lots of one day are two reminders with different ids", () => {
    const reminders = remindersOf(caseWith({ ...at("2025-01-01"), log: [bought, { ...bought, added_g: null }] }));
    expect(reminders).toMatchObject([
      { id: "can-deposit-2024-12-20-0", cans: 2, deposit: 20 },
      { id: "can-deposit-2024-12-20-1", cans: null, deposit: null },
    ]);
  });

  test.each([
    ["bought after it ended", { ...bought, date: "2025-01-01" }, "us-ca"],
    ["in another place", bought, "us-wi"],
    ["where nobody said where", bought, null],
    ["filled by scale", { ...bought, added_by: "scale" }, "us-ca"],
    ["with nothing added", { ...bought, added_g: 0 }, "us-ca"],
  ] as const)("is none for cans %s", (_what, entry, place) => {
    expect(remindersOf(caseWith({ ...at("2025-01-02"), place, log: [entry] }))).toEqual([]);
  });
});

describe("after a repair", () => {
  const repair: RemindedEntry = { date: "2026-04-20", finish: "weighed", repair: "condenser" };
  const about = { repaired: "2026-04-20", location: "condenser" };
  const look = { kind: "repair-look", id: "repair-look-2026-04-20", date: "2026-05-27", ...about };

  test("comes a look at the place, and the day that settles it", () => {
    const answer = answerWith({ repair_sure_date: "2027-05-01" });
    expect(remindersOf(caseWith({ answer, log: [repair] }))).toEqual([
      look,
      { kind: "repair-held", id: "repair-held-2026-04-20", date: "2027-05-01", ...about },
    ]);
  });

  test("there is no such day when the log does not settle it, or has", () => {
    for (const repair_sure_date of [null, AS_OF])
      expect(remindersOf(caseWith({ answer: answerWith({ repair_sure_date }), log: [repair] }))).toEqual([look]);
  });

  test("a day that a quote names goes before the model's", () => {
    const answer = answerWith({ repair_sure_date: "2027-05-01" });
    const checks = [
      { repaired: "2025-01-01", on: "2026-01-01" },
      { repaired: "2026-04-20", on: "2027-10-13" },
    ];
    expect(remindersOf(caseWith({ answer, log: [repair], checks })).map(({ date }) => date)).toContain("2027-10-13");
  });

  test("only the last repair counts", () => {
    const earlier: RemindedEntry = { ...repair, date: "2026-04-10", repair: "hose" };
    expect(remindersOf(caseWith({ log: [earlier, repair] }))).toEqual([look]);
  });
});

test("reminders come in the order of their days", () => {
  const answer = answerWith({
    verdict: "top-off",
    watch_date: "2026-06-15",
    next_low: { p10: "2026-06-01", p50: "2026-12-01", p90: "2027-06-01" },
  });
  const kinds = remindersOf(caseWith({ answer, log: [{ ...CAN, dye: "added" }] })).map(({ kind }) => kind);
  expect(kinds).toEqual(["dye-inspection", "next-low", "watch"]);
});

describe("a look that was due and not made", () => {
  const repaired: RemindedEntry = { date: "2026-01-10", finish: "weighed", repair: "hose" };
  const later = { answer: answerWith({ as_of: "2026-12-01" }), log: [repaired] };

  test("at a repair is overdue for as long as nothing is written down, and gone then", () => {
    const [look] = remindersOf(caseWith(later));
    expect(look).toMatchObject({ kind: "repair-look", date: "2026-02-16" });
    expect(isOverdue(look!, "2026-12-01")).toBe(true);
    expect(isOverdue(look!, "2026-02-16")).toBe(false);
    const seen = { ...later, log: [repaired, { date: "2026-03-01", cooling: "ok" as const }] };
    expect(remindersOf(caseWith(seen)).filter(({ kind }) => kind === "repair-look")).toEqual([]);
  });

  test("with the lamp is overdue, too", () => {
    const log: RemindedEntry[] = [{ date: "2026-01-10", added_g: 100, added_by: "scale", dye: "added" }];
    expect(remindersOf(caseWith({ ...later, log }))).toMatchObject([{ kind: "dye-inspection", date: "2026-02-16" }]);
  });
});
