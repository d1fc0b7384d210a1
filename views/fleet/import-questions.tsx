import { cellWords, FLEET_FIELDS, type FleetField, fleetFields, MASS_COLUMN_UNITS } from "../../data/fleet-format.ts";
import type { AssetUrl } from "../assets.ts";
import type { FieldError } from "../parts/error-summary.tsx";
import { choicesOf, RadioField, SelectField } from "../parts/field.tsx";
import { FleetFrame } from "./frame.tsx";
import { saidNumber } from "./shown.ts";

/** A question about a sheet, answered or not. */
export type ShownQuestion =
  | { kind: "unit"; column: number; least: number; largest: number }
  | { kind: "distance-unit"; column: number; example: string }
  | { kind: "points"; column: number; example: string }
  | { kind: "words"; field: FleetField; column: number; words: readonly string[] }
  | { kind: "date-order"; column: number; example: string }
  | { kind: "fill-down"; column: number; blanks: number }
  | { kind: "no-event"; missing: "date" | "amount" };

export interface ShownFile {
  name: string;
  rows: number;
  /** Whether it is read as the last file with the same headers was. */
  kept: boolean;
  skip: boolean;
  header_row: number;
  /** The first rows, with what stands above the header. */
  head: readonly { row: number; cells: readonly string[] }[];
  columns: readonly { index: number; header: string; field: FleetField | "none" }[];
  questions: readonly ShownQuestion[];
  answers: {
    units?: Readonly<Record<number, string>>;
    points?: Readonly<Record<number, string>>;
    words?: Readonly<Record<number, Readonly<Record<string, string>>>>;
    date_order?: string | null;
    fill_down?: boolean | undefined;
    no_events?: boolean | undefined;
  };
}

interface QuestionsPageProps {
  id: string;
  files: readonly ShownFile[];
  errors: readonly FieldError[];
  asset: AssetUrl;
}

/** Rows of the sheet below its headers. */
const ROWS_SHOWN = 5;

/** The questions to answer before the rows can be read, above the sheet as it stands. */
export function QuestionsPage({ id, files, errors, asset }: QuestionsPageProps) {
  return (
    <FleetFrame title="Questions about the file" path="/fleet/import" asset={asset} errors={errors}>
      <h1 class="page-title">What do the columns mean?</h1>
      <form class="fleet-sheets" method="post" action={`/fleet/import/${id}/answers`}>
        {files.map((file, number) => (
          <Sheet file={file} number={number} several={files.length > 1} errors={errors} />
        ))}
        <div class="actions">
          <button type="submit" class="button">
            Read the rows
          </button>
        </div>
      </form>
      <form class="fleet-below" method="post" action={`/fleet/import/${id}/back`}>
        <button type="submit" class="button-quiet">
          Discard the file
        </button>
      </form>
    </FleetFrame>
  );
}

interface SheetProps {
  file: ShownFile;
  number: number;
  several: boolean;
  errors: readonly FieldError[];
}

function Sheet({ file, number, several, errors }: SheetProps) {
  return (
    <fieldset>
      <legend dir="auto">
        {file.name}, {saidNumber(file.rows)} rows
      </legend>
      {file.kept && <p>Its headers are those of an earlier file, so it is read the same way.</p>}
      {several && (
        <RadioField
          id={`f${number}-skip`}
          name={`f${number}-skip`}
          label="Read this sheet?"
          error={errors.find(({ field }) => field === `f${number}-skip`)?.message}
          value={file.skip ? "yes" : "no"}
          choices={choicesOf({ no: "Yes", yes: "No, leave it out" })}
        />
      )}
      {!file.columns.some(({ field }) => field === "vehicle") && (
        <p class="note">Choose the column that names the vehicle, above the sheet.</p>
      )}
      <div class="fleet-mapping">
        {file.questions.map((question) => (
          <AskedQuestion question={question} file={file} number={number} errors={errors} />
        ))}
      </div>
      <SheetTable file={file} number={number} errors={errors} />
      <HeaderRow file={file} number={number} />
    </fieldset>
  );
}

interface AskedProps {
  question: ShownQuestion;
  file: ShownFile;
  number: number;
  errors: readonly FieldError[];
}

/** What the input of a question needs: id, name, and what to put right. */
function inputOf({ number, errors }: Pick<AskedProps, "number" | "errors">, name: string) {
  const id = `f${number}-${name}`;
  return { id, name: id, error: errors.find(({ field }) => field === id)?.message };
}

function headerOf(file: ShownFile, index: number): string {
  return file.columns[index]?.header || `Column ${index + 1}`;
}

function AskedQuestion(props: AskedProps) {
  const { question, file } = props;
  const { answers } = file;
  switch (question.kind) {
    case "date-order":
      return (
        <RadioField
          {...inputOf(props, "date")}
          label={`In “${headerOf(file, question.column)}”, which comes first?`}
          hint={`${question.example} could be two dates, and no other date in the column decides it`}
          value={answers.date_order ?? ""}
          choices={choicesOf({ "day-first": "the day", "month-first": "the month" })}
        />
      );
    case "unit":
      return (
        <SelectField
          {...inputOf(props, `unit-${question.column}`)}
          label={`Unit of the numbers in “${headerOf(file, question.column)}”`}
          hint={
            question.least === question.largest
              ? `They are ${question.least}`
              : `They go from ${question.least} to ${question.largest}`
          }
          value={answers.units?.[question.column] ?? ""}
          choices={[CHOOSE, ...MASS_COLUMN_UNITS.map((unit) => ({ value: unit, label: unit }))]}
        />
      );
    case "distance-unit":
      return (
        <SelectField
          {...inputOf(props, `unit-${question.column}`)}
          label={`Unit of the numbers in “${headerOf(file, question.column)}”`}
          hint={`Like ${question.example}`}
          value={answers.units?.[question.column] ?? ""}
          choices={[CHOOSE, { value: "mi", label: "miles" }, { value: "km", label: "km" }]}
        />
      );
    case "points":
      return <PointsQuestion {...props} question={question} />;
    case "words":
      return <WordsQuestion {...props} question={question} />;
    case "fill-down":
      return (
        <RadioField
          {...inputOf(props, "fill-down")}
          label={`${saidNumber(question.blanks)} rows have nothing in “${headerOf(file, question.column)}”. Whose are they?`}
          hint="Merged cells leave the rows below the first one empty"
          value={answers.fill_down === undefined ? "" : answers.fill_down ? "yes" : "no"}
          choices={choicesOf({ yes: "The vehicle's above", no: "Nobody's: reject them" })}
        />
      );
    case "no-event":
      return (
        <RadioField
          {...inputOf(props, "no-events")}
          label={
            question.missing === "date"
              ? "No column has the date of the entries. Is there one?"
              : "No column says what was done. Is there one?"
          }
          value={answers.no_events ? "yes" : ""}
          choices={choicesOf({ no: "Yes: I choose it in the sheet below", yes: "No: this file has vehicles only" })}
        />
      );
  }
}

type Asked<Kind extends ShownQuestion["kind"]> = Omit<AskedProps, "question"> & {
  question: Extract<ShownQuestion, { kind: Kind }>;
};

/** Whether a sign in a column's numbers parts thousands or begins the decimals. */
function PointsQuestion(props: Asked<"points">) {
  const { question, file } = props;
  const { answers } = file;
  return (
    <RadioField
      {...inputOf(props, `points-${question.column}`)}
      label={`In “${headerOf(file, question.column)}”, what is ${question.example}?`}
      hint="The sign can part thousands, or begin the decimals"
      value={answers.points?.[question.column] ?? ""}
      choices={[
        { value: "thousands", label: question.example.replace(/[.,](?=\d{3})/g, "") },
        { value: "decimal", label: question.example.replace(",", ".").replace(/0{1,9}(?=\D|$)/, "") },
      ]}
    />
  );
}

/** What the words of a column mean. */
function WordsQuestion(props: Asked<"words">) {
  const { question, file, number } = props;
  const { answers } = file;
  return (
    <>
      {question.words.map((word, i) => (
        <SelectField
          {...inputOf(props, `word-${question.column}-${i}`)}
          name={`f${number}-word-${question.column}-${word}`}
          label={`“${word}” in “${headerOf(file, question.column)}” means`}
          value={
            answers.words?.[question.column]?.[word] === "" ? "none" : (answers.words?.[question.column]?.[word] ?? "")
          }
          choices={[CHOOSE, ...wordsOf(question.field), { value: "none", label: "Leave the cell out" }]}
        />
      ))}
    </>
  );
}

const CHOOSE = { value: "", label: "Choose" };

const WORDS: Partial<Record<FleetField, Readonly<Record<string, readonly string[]>>>> = {
  ...cellWords,
  electric: cellWords.yes_no,
  own_oil_dye: cellWords.yes_no,
  dye: cellWords.yes_no,
};

function wordsOf(field: FleetField) {
  return Object.keys(WORDS[field] ?? {}).map((word) => ({ value: word, label: word }));
}

/** The sheet as it stands, with a chooser over each column; what is not taken is grey. */
function SheetTable({ file, number, errors }: Omit<SheetProps, "several">) {
  const below = file.head.filter(({ row }) => row > file.header_row).slice(0, ROWS_SHOWN);
  return (
    <section class="table-scroll" aria-label={`First rows of ${file.name}`} tabindex={0}>
      <table class="fleet-sheet">
        <thead>
          <tr>
            <th scope="row">Read as</th>
            {file.columns.map(({ index, header, field }) => {
              const id = `f${number}-column-${index}`;
              const wrong = errors.some((error) => error.field === id);
              return (
                <td class={field === "none" ? "is-left-out" : undefined}>
                  <select
                    id={id}
                    name={id}
                    aria-label={`“${header || `Column ${index + 1}`}” is read as`}
                    aria-invalid={wrong ? "true" : undefined}
                  >
                    <option value="none" selected={field === "none"}>
                      Leave it out
                    </option>
                    {FLEET_FIELDS.map((one) => (
                      <option value={one} selected={field === one}>
                        {fleetFields[one].label}
                      </option>
                    ))}
                  </select>
                </td>
              );
            })}
          </tr>
          <tr>
            <th scope="row">{file.header_row}</th>
            {file.columns.map(({ header, field }) => (
              <th scope="col" dir="auto" class={field === "none" ? "is-left-out" : undefined}>
                {header}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {below.map(({ row, cells }) => (
            <tr>
              <th scope="row">{row}</th>
              {file.columns.map(({ index, field }) => (
                <td dir="auto" class={field === "none" ? "is-left-out" : undefined}>
                  {cells[index] ?? ""}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** Which row has the headers. */
function HeaderRow({ file, number }: Pick<SheetProps, "file" | "number">) {
  return (
    <details class="folded" open={file.header_row > 1}>
      <summary>The headers are in row {file.header_row}. Are they elsewhere?</summary>
      <input type="hidden" name={`f${number}-header-was`} value={String(file.header_row)} />
      <SelectField
        id={`f${number}-header`}
        name={`f${number}-header`}
        label="Row with the headers"
        value={String(file.header_row)}
        choices={file.head.map(({ row, cells }) => ({
          value: String(row),
          label: `${row}: ${cells
            .filter((cell) => cell !== "")
            .join(" · ")
            .slice(0, 70)}`,
        }))}
      />
    </details>
  );
}
