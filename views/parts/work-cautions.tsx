import type { RefrigerantId } from "../../src/core/question/contract.ts";

/** The usual cautions on a paper that goes to the bay. */
export function WorkCautions({ refrigerants }: { refrigerants: readonly RefrigerantId[] }) {
  return (
    <ul>
      <li>
        Recover before the system is opened, and vent nothing. Gloves and goggles: refrigerant freezes skin and eyes.
      </li>
      <li>Never charge the high side with the engine running; keep clear of belts and fans.</li>
      {refrigerants.includes("R-1234yf") && (
        <li>R-1234yf is flammable. Keep flames and sparks away, and work in fresh air.</li>
      )}
      <li>An electric compressor runs on high voltage: only a technician trained for it.</li>
      <li>Certification and record keeping follow your local rules.</li>
    </ul>
  );
}
