import type { Child } from "hono/jsx";
import type { Outcome } from "./outcome.ts";

/** What can hurt, and what the law may say, before anyone touches the system. */
export function Cautions({ outcome }: { outcome: Outcome }) {
  const { refrigerant } = outcome.question;
  const own_hands = outcome.question.plan.service === "diy";
  const lines: Child[] = [
    "Never vent refrigerant: it is against the law in many places. Have a licensed shop recover it before the system is opened.",
    "Refrigerant freezes skin and eyes: wear gloves and eye protection whenever it is handled.",
  ];
  if (own_hands) {
    lines.push(
      "Cans go on the low side only. On the high side a can may burst.",
      "Keep hands, hoses and sleeves away from the belt and the fan while the engine runs.",
      "Add no sealer: it harms seals, and machines that recover it.",
    );
  }
  if (refrigerant === "R-1234yf") {
    lines.push("R-1234yf burns: no flame, spark or cigarette near it, and fresh air around the work.");
  }
  if (refrigerant === "R-12") {
    lines.push(
      "R-12 harms the ozone layer and is sold to licensed people only in many places. Do not mix it with another refrigerant.",
    );
  }
  lines.push(
    "A hybrid or electric vehicle may have a high-voltage compressor: that is work for people trained on it, with its own oil.",
  );
  return (
    <div class="cautions">
      <h3>Before anyone touches it</h3>
      <ul>
        {lines.map((line) => (
          <li>{line}</li>
        ))}
      </ul>
    </div>
  );
}
