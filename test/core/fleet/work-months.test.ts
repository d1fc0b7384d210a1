import { expect, test } from "vitest";
import { monthsLeft, monthsOf, workOf } from "../../../src/core/fleet/work-months.ts";

test("monthsLeft(year, today) begins with this month, and a later year is whole", () => {
  expect(monthsLeft(2026, "2026-11-29")).toEqual(["2026-11", "2026-12"]);
  expect(monthsLeft(2027, "2026-11-29")).toHaveLength(12);
  expect(monthsLeft(2025, "2026-11-29")).toEqual([]);
});

test("monthsOf gives the earliest low date the first month, and a month what the shop has time for", () => {
  const jobs = [
    { low: null, work: 1 },
    { low: "2027-05-01", work: 1 },
    { low: "2026-12-01", work: 1 },
    { low: "2027-02-01", work: 1 },
  ];
  const months = ["2027-01", "2027-02", "2027-03"];
  expect(monthsOf(jobs, months, 2)).toEqual(["2027-02", "2027-02", "2027-01", "2027-01"]);
  expect(monthsOf(jobs, months, 2, new Map([["2027-01", 1]]))).toEqual(["2027-03", "2027-02", "2027-01", "2027-02"]);
  expect(monthsOf(jobs, months, null)).toEqual(Array(4).fill("2027-01"));
});

test("a job that is begun at a month's end runs into the next, and all the year's hours are used", () => {
  const jobs = Array.from({ length: 4 }, () => ({ low: null, work: 4 }));
  // 6 hours a month: 0–4, 4–8, 8–12, 12–16.
  expect(monthsOf(jobs, ["2027-01", "2027-02", "2027-03"], 6)).toEqual(["2027-01", "2027-01", "2027-02", "2027-03"]);
});

test("a test keeps room for the repair that may follow; where jobs are counted, all are one", () => {
  const shop = { repair_hours: 4, test_hours: 1 };
  expect(workOf({ ...shop, unit: "hours" }, "repair")).toBe(4);
  expect(workOf({ ...shop, unit: "hours" }, "dye-test")).toBe(5);
  expect(workOf({ ...shop, unit: "jobs" }, "dye-test")).toBe(1);
});
