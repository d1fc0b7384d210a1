import { SelectField, TextField } from "../parts/field.tsx";
import type { Messages } from "./question.tsx";
import { COOLED_CHOICES, DEED_CHOICES, type LogLineFields, lineFieldId } from "./quick-fields.ts";

interface LogLinesProps {
  lines: readonly LogLineFields[];
  messages: Messages;
}

/** The charge log as lines to fill in; adding and removing one are submit buttons, so that they need no script. */
export function LogLines({ lines, messages }: LogLinesProps) {
  return (
    <>
      <ol class="log-lines">
        {lines.map((line, i) => (
          <LogLine line={line} i={i} messages={messages} />
        ))}
      </ol>
      <p>
        <button type="submit" class="button-quiet" name="add" value="1" id="add-line">
          Add a line
        </button>
      </p>
    </>
  );
}

function LogLine({ line, i, messages }: { line: LogLineFields; i: number; messages: Messages }) {
  const id = (part: keyof LogLineFields) => lineFieldId(part, i);
  const error = (part: keyof LogLineFields) => messages.get(id(part));
  const of_line = <span class="visually-hidden">, line {i + 1}</span>;
  return (
    <li class="log-line">
      <TextField
        id={id("when")}
        name="when"
        label={<>When{of_line}</>}
        value={line.when}
        error={error("when")}
        describedby="log-hint"
      />
      <SelectField
        id={id("did")}
        name="did"
        label={<>What was done{of_line}</>}
        value={line.did}
        choices={DEED_CHOICES}
        error={error("did")}
        class="did"
      />
      <TextField
        id={id("amount")}
        name="amount"
        label={<>How much{of_line}</>}
        value={line.amount}
        error={error("amount")}
        describedby="log-hint"
      />
      <SelectField
        id={id("cooled")}
        name="cooled"
        label={<>How it cooled{of_line}</>}
        value={line.cooled}
        choices={COOLED_CHOICES}
        error={error("cooled")}
      />
      <button type="submit" class="button-quiet remove" name="remove" value={i + 1} id={`remove-${i + 1}`}>
        Remove<span class="visually-hidden"> line {i + 1}</span>
      </button>
    </li>
  );
}
