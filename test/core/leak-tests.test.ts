import { expect, test } from "vitest";
import { LEAK_TESTS, type LeakTest, OTHER_TESTS, PLACES_TO_LOOK } from "../../data/tests.ts";

// SAE J1628 as three service manuals quote it and its 2020 summary tells it: at least 340 kPa, 15 °C, probe within 5 mm
// at 25–50 mm/s, caps on, on after the first leak, evaporator after 15 s of high blower and a wait, again after the
// repair.
test("the electronic leak test is done as SAE J1628 has it", () => {
  const { needs, steps } = LEAK_TESTS.electronic;
  const text = [...needs, ...steps.map(({ does }) => does)].join(" ");
  for (const words of [
    "340 kPa",
    "15 °C",
    "25 to 50 mm",
    "within 5 mm",
    "caps on",
    "Go on after the first leak",
    "high for at least 15 seconds",
    "After a repair",
  ])
    expect(text).toContain(words);
  expect(PLACES_TO_LOOK["service-port"].positive.electronic).toContain("cap on");
});

// The same summary: bubbles show leaks over 1276 g a year.
test("soapy water proves nothing when no bubbles come", () => {
  expect(OTHER_TESTS.bubbles.what).toContain("1,276 g");
  expect(OTHER_TESTS.bubbles.clean).toContain("no bubbles prove nothing");
});

const said = ({ needs, steps, clean, limits }: LeakTest) =>
  [...needs, ...steps.flatMap(({ does, caution }) => [does, caution ?? ""]), clean, limits].join(" ");

/** Ideal gas: moles behind a change of pressure, of so many in a volume, at 25 °C. R = 8.314 J/(mol K). */
const moles = (pascal: number, m3: number) => (pascal * m3) / (8.314 * 298.15);
const YEAR_MIN = 365.25 * 24 * 60;
/** A car's system holds about two litres inside: common practice, no source. */
const SYSTEM_M3 = 0.002;

// US Army TM 5-3805-280-24-1: 29 inHg, 15 minutes, leak if it falls by more than 1 inHg in 5 minutes, 1 inHg for 1000
// ft; TM 5-3805-292-23: 28 to 29 inHg, 90 minutes; TM 5-3805-296-23-4: 2 inHg in 5 minutes.
test("vacuum decay has the numbers of the army's manuals, and says how large a leak they let pass", () => {
  const text = said(OTHER_TESTS.vacuum);
  for (const words of ["28 to 29 inHg", "15 minutes", "1 inHg (3.4 kPa) in 5 minutes", "1,000 ft (305 m)", "90 after"])
    expect(text).toContain(words);
  const air_kg_per_year = moles(3386, SYSTEM_M3) * 0.02896 * (YEAR_MIN / 5);
  expect(air_kg_per_year).toBeGreaterThan(2);
  expect(text).toContain("kilograms of air a year");
});

// TM 9-4110-256-14 and -257-14: regulator always, over 2000 psi, no oxygen, suffocation. A truck maker's manual, 2004:
// 10 bar.
test("nitrogen is let in through a regulator, to a limit, never oxygen or compressed air, with doors open", () => {
  const text = said(OTHER_TESTS.nitrogen);
  for (const words of [
    "regulator",
    "2,000 psi",
    "150 psi (10 bar)",
    "Oxygen and oil explode",
    "compressed air",
    "place of air",
  ])
    expect(text).toContain(words);
  // Gauge 150 psi is 164.7 absolute; 10 °F of about 537 °R (77 °F).
  expect((164.7 * 10) / 537).toBeCloseTo(3, 0);
  expect(text).toContain("takes 3 psi (0.2 bar) off 150 psi");
  const nitrogen_kg_per_year = moles(2 * 6895, SYSTEM_M3) * 0.028 * (YEAR_MIN / 60);
  expect(nitrogen_kg_per_year).toBeGreaterThan(1);
});

// SAE J2970 (2015), scope; a detector's manual: 95/5, about 5 bar.
test("a tracer gas is bought mixed, stays under the vehicle's limit, and rises", () => {
  const text = said(OTHER_TESTS.tracer);
  for (const words of [
    "5% hydrogen in nitrogen",
    "about 5 bar (73 psi)",
    "J2970",
    "Never add oxygen",
    "hydrogen rises",
  ])
    expect(text).toContain(words);
});

test("every test says where its numbers come from, and every one with pressure or gas has its caution", () => {
  for (const test of [...Object.values(LEAK_TESTS), ...Object.values(OTHER_TESTS)]) {
    expect(test.source, test.name).toMatch(/SAE J\d+|US Army TM/);
    expect(test.steps[0]?.caution, test.name).not.toBeNull();
  }
});
