import { ErrorText, type Messages, SelectField, TextField } from "../parts/field.tsx";
import { COOLED_CHOICES } from "../words/cooled.ts";
import { DID_CHOICES, type LogLineFields, lineFieldId } from "./quick-fields.ts";

interface LogLinesProps {
  lines: readonly LogLineFields[];
  messages: Messages;
  /** How each line was read, where that says more than what was typed. */
  read_back: readonly (string | null)[];
}

/** The charge log as lines to fill in; adding and removing one are submit buttons, so that they need no script. */
export function LogLines({ lines, messages, read_back }: LogLinesProps) {
  return (
    <>
      <ol class="log-lines">
        {lines.map((line, i) => (
          <LogLine line={line} i={i} messages={messages} read={read_back[i] ?? null} />
        ))}
      </ol>
      <p>
        <button type="submit" class="button-quiet" name="add" value="1" id="add-line">
          Add an entry
        </button>
      </p>
    </>
  );
}

const PARTS = ["when", "did", "amount", "cooled"] as const;

/** What is wrong on the line stands above it, across its whole width: the boxes are too narrow for a sentence. */
interface LogLineProps {
  line: LogLineFields;
  i: number;
  messages: Messages;
  read: string | null;
}

function LogLine({ line, i, messages, read }: LogLineProps) {
  const of_line = <span class="visually-hidden">, entry {i + 1}</span>;
  const read_id = `read-${i + 1}`;
  const shared = (part: keyof LogLineFields) => {
    const id = lineFieldId(part, i);
    const wrong = messages.has(id);
    return {
      id,
      name: part,
      value: line[part],
      invalid: wrong,
      describedby: wrong ? `log-hint ${id}-error` : `log-hint ${read_id}`,
    };
  };
  return (
    <li class="log-line">
      <LineErrors i={i} messages={messages} />
      <TextField {...shared("when")} label={<>When{of_line}</>} />
      <TextField {...shared("amount")} label={<>How much{of_line}</>} />
      <p class="read-back" id={read_id} role="status">
        {read !== null && `Read as ${read}`}
      </p>
      <SelectField {...shared("did")} label={<>What was done{of_line}</>} choices={DID_CHOICES} class="did" />
      <SelectField {...shared("cooled")} label={<>It cooled{of_line}</>} choices={COOLED_CHOICES} />
      <button type="submit" class="remove" name="remove" value={i + 1} id={`remove-${i + 1}`}>
        Remove<span class="visually-hidden"> entry {i + 1}</span>
      </button>
    </li>
  );
}

function LineErrors({ i, messages }: { i: number; messages: Messages }) {
  return (
    <>
      {PARTS.map((part) => {
        const id = lineFieldId(part, i);
        const message = messages.get(id);
        return message === undefined ? null : <ErrorText id={id} message={message} />;
      })}
    </>
  );
}
