import { Entry } from "../parts/entry.tsx";
import type { QuickFields } from "./quick-fields.ts";

/** Where to go from the answer: is it low at all, how to top it off, how to find the leak, what the law says. */
export function Onward({ fields, plan }: { fields: QuickFields; plan: string }) {
  const { units, refrigerant, nameplate } = fields;
  return (
    <Entry name="Before you act">
      <ul class="bullets">
        <li>
          <a href={`/readings?${new URLSearchParams({ units, refrigerant, nameplate })}`}>Check readings</a>: is it low
          at all, or is something else the trouble?
        </li>
        <li>
          <a href={plan}>Top-off plan</a>: how much, with what, step by step.
        </li>
        <li>
          <a href="/leak-tests">How to look for the leak</a>: by eye, with dye, with a detector.
        </li>
        <li>
          <a href="/rules">Rules</a>: what is allowed where the vehicle is.
        </li>
      </ul>
    </Entry>
  );
}
