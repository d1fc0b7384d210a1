import { Entry } from "../parts/entry.tsx";

interface OnwardProps {
  /** The quick question as it stands. */
  address: string;
  where: string;
  /** Whether topping off is an option at all. */
  top_off: boolean;
}

/** Where to go from the answer: is it low at all, how to top it off, how to find the leak, what the law says. */
export function Onward({ address, where, top_off }: OnwardProps) {
  const with_question = (path: string) => address.replace("/?", `${path}?`);
  return (
    <Entry name="Also" id="onward">
      <ul class="links">
        <li>
          <a href={with_question("/readings")}>Check readings</a>
        </li>
        {top_off && (
          <li>
            <a href={with_question("/top-off")}>Top-off plan</a>
          </li>
        )}
        <li>
          <a href="/leak-tests">Find the leak</a>
        </li>
        <li>
          <a href={`/rules?${new URLSearchParams({ place: where })}`}>Rules</a>
        </li>
      </ul>
    </Entry>
  );
}
