import { expect, test } from "vitest";
import { LEAK_TESTS, PLACES_TO_LOOK } from "../../data/tests.ts";

// SAE J1628 as three service manuals quote it and its 2020 summary tells it: at least 340 kPa, 15 °C, probe within 5 mm at
// 25–50 mm/s, caps on, on after the first leak, evaporator after 15 s of high blower and a wait, again after the repair.
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
  expect(LEAK_TESTS.visual.steps.map(({ does }) => does).join(" ")).toMatch(/1,276 g .*no bubbles prove nothing/);
});
