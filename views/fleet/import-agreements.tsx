import type { Child } from "hono/jsx";
import { Changes, RowTable } from "./import-rows.tsx";
import type { ReportPageProps } from "./import-shown.ts";
import { logEntries, saidNumber, vehicles } from "./shown.ts";

/** What is imported only if the person agrees, each kind with its rows. */
export function Agreements(props: ReportPageProps) {
  const { files, from_text, doubted, corrections, change_rows, counts } = props;
  const changes_here = change_rows.filter(({ here }) => here);
  return (
    <div class="fleet-report">
      {from_text > 0 && (
        <Agreement name="text" checked words={`Import what was read out of sentences (${saidNumber(from_text)})`}>
          <RowTable rows={props.from_text_rows} files={files} name="Read out of sentences" what="Read" />
        </Agreement>
      )}
      {counts.entries_corrected > 0 && (
        <Agreement
          name="corrections"
          checked
          words={`Correct ${logEntries(counts.entries_corrected)} of the same order`}
        >
          <ul>
            {corrections.map(({ vehicle, order, from, to }) => (
              <li dir="auto">
                {vehicle}, {order}: change {from} to {to}?
              </li>
            ))}
          </ul>
        </Agreement>
      )}
      {counts.vehicles_changed > 0 && (
        <Agreement name="changes" checked words={`Change ${vehicles(counts.vehicles_changed)} that are already here`}>
          <Changes rows={changes_here} />
        </Agreement>
      )}
      {doubted > 0 && (
        <Agreement
          name="doubt"
          words={`Import ${saidNumber(doubted)} ${doubted === 1 ? "amount" : "amounts"} that are hard to believe, too`}
        >
          <RowTable rows={props.doubted_rows} files={files} name="Hard to believe" what="Why" />
          <p>Left out unless you tick this. If the unit is wrong, change the columns.</p>
        </Agreement>
      )}
      {props.entries_read > 0 && (
        <Agreement name="logged" words="Every charge of these vehicles is in the file">
          <p>Then no entry means that a vehicle was not found low, from the file's first day until today.</p>
        </Agreement>
      )}
    </div>
  );
}

interface AgreementProps {
  name: string;
  words: string;
  checked?: boolean;
  children: Child;
}

function Agreement({ name, words, checked = false, children }: AgreementProps) {
  return (
    <section>
      <label class="choice">
        <input type="checkbox" name={name} value="yes" checked={checked} />
        {words}
      </label>
      {children}
    </section>
  );
}
