import { Unbroken } from "../words/said.tsx";
import { type Outcome, repairAndTopOff } from "./outcome.ts";

/** Dangers, and what the law may say, before anyone touches the system. */
export function Cautions({ outcome }: { outcome: Outcome }) {
  const { refrigerant, plan } = outcome.question;
  const lines: string[] = [];
  if (outcome.electric === "yes") {
    lines.push(
      "High voltage drives this compressor and can kill. Only a technician trained for high voltage may work on it. Only the compressor's own oil, and dye in that oil, may go in.",
    );
  }
  if (refrigerant === "R-1234yf") {
    lines.push("R-1234yf is flammable. Keep flames, sparks and cigarettes away, and work in fresh air.");
  }
  lines.push("Refrigerant freezes skin and eyes. Wear gloves and eye protection whenever you handle it.");
  // Where topping off is out, nobody works with cans.
  if (plan.service === "diy" && repairAndTopOff(outcome.answer).topOff.offered) {
    lines.push(
      "Cans go on the low side only. On the high side a can may burst.",
      "Keep hands, hoses and sleeves away from the belt and the fan while the engine runs.",
    );
  }
  if (plan.service === "diy") lines.push("Don't use sealer. It damages seals and recovery machines.");
  lines.push(
    "Never vent refrigerant. It is illegal in many places. Have a certified shop recover it before anyone opens the system.",
  );
  if (refrigerant === "R-12") {
    lines.push(
      "R-12 harms the ozone layer, and many places sell it to certified technicians only. Never mix refrigerants.",
    );
  }
  if (outcome.electric === "not-sure") {
    lines.push(
      "Hybrid or electric? The compressor may run on high voltage and needs its own oil. Leave it to a technician trained for high voltage.",
    );
  }
  return (
    <div class="cautions">
      <h3>Safety first</h3>
      <ul>
        {lines.map((line) => (
          <li>
            <Unbroken text={line} />
          </li>
        ))}
      </ul>
    </div>
  );
}
