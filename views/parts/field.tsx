import type { Child } from "hono/jsx";
import type { FieldError } from "./error-summary.tsx";

/** Messages by the id of their input. */
export type Messages = ReadonlyMap<string, string>;

/** The names of a form's fields that hold text. */
type TextName<Fields> = {
  [Name in keyof Fields]: Fields[Name] extends string | undefined ? Name : never;
}[keyof Fields] &
  string;

/**
 * What the input of each field needs: id, name, value, and what to put right. `idOf` names the input where a form has
 * the same fields several times.
 *
 * @example
 * const of = fieldOf(fields, messages);
 * return <TextField {...of("customer")} label="Customer" />;
 */
export function fieldOf<Fields extends object, Name extends TextName<Fields> = TextName<Fields>>(
  fields: Fields,
  messages: Messages = new Map(),
  idOf: (name: Name) => string = (name) => name,
) {
  return (name: Name) => {
    const id = idOf(name);
    return { id, name: id, value: String(fields[name] ?? ""), error: messages.get(id) };
  };
}

/** Error messages by field. */
export function messagesOf(errors: readonly FieldError[]): Messages {
  return new Map(errors.map(({ field, message }) => [field, message]));
}

interface Described {
  id: string;
  hint?: Child;
  error?: string | undefined;
  /** See `ErrorText`; for a page that is not in English. */
  saying?: ((message: string) => string) | undefined;
}

interface FieldProps extends Described {
  name: string;
  /** The value is wrong, and the message is elsewhere: `describedby` names it. */
  invalid?: boolean;
  label: Child;
}

interface TextFieldProps extends FieldProps {
  value: string;
  short?: boolean;
  inputmode?: "text" | "decimal" | "numeric";
  /** Shown beside the box; the label says it too. */
  unit?: string;
  /** Ids of hints that stand elsewhere. */
  describedby?: string;
  class?: string;
  /** Free text in any language: it gets its own direction, and spell checking. */
  words?: boolean;
}

/** Label, hint, error, input, in this order; the input names hint and error. */
export function TextField(props: TextFieldProps) {
  const { id, name, value, unit, inputmode } = props;
  const input = (
    <input
      type="text"
      id={id}
      name={name}
      value={value}
      class={props.short ? "short" : undefined}
      inputmode={inputmode}
      autocomplete="off"
      spellcheck={props.words ?? false}
      dir={props.words ? "auto" : undefined}
      aria-describedby={descriptions(props, props.describedby)}
      aria-invalid={isWrong(props) ? "true" : undefined}
    />
  );
  return (
    <div class={`field ${props.class ?? ""}`.trim()}>
      <FieldHead {...props} />
      {unit === undefined ? (
        input
      ) : (
        <div class="with-unit">
          {input}
          <span aria-hidden="true">{unit}</span>
        </div>
      )}
    </div>
  );
}

interface TextAreaFieldProps extends FieldProps {
  value: string;
  rows: number;
}

/** Words over several lines, in any language. */
export function TextAreaField(props: TextAreaFieldProps) {
  const { id, name, value, rows } = props;
  return (
    <div class="field">
      <FieldHead {...props} />
      {/* A parser drops the first line break after the tag: this one, and not the person's. */}
      <textarea
        id={id}
        name={name}
        rows={rows}
        dir="auto"
        aria-describedby={descriptions(props)}
        aria-invalid={isWrong(props) ? "true" : undefined}
      >
        {`\n${value}`}
      </textarea>
    </div>
  );
}

export interface Choice {
  value: string;
  label: Child;
}

/** Choices from their labels by value, in the order written; no value may be a whole number, which would move ahead. */
export function choicesOf<Value extends string>(
  labels: Readonly<Record<Value, string>>,
): (Choice & { value: Value })[] {
  return (Object.keys(labels) as Value[]).map((value) => ({ value, label: labels[value] }));
}

export interface ChoiceGroup {
  group: string;
  choices: readonly Choice[];
}

interface SelectFieldProps extends FieldProps {
  value: string;
  choices: readonly (Choice | ChoiceGroup)[];
  describedby?: string;
  class?: string;
}

/** A field with a list to choose from. */
export function SelectField(props: SelectFieldProps) {
  const { id, name, value, choices } = props;
  return (
    <div class={`field ${props.class ?? ""}`.trim()}>
      <FieldHead {...props} />
      <select
        id={id}
        name={name}
        aria-describedby={descriptions(props, props.describedby)}
        aria-invalid={isWrong(props) ? "true" : undefined}
      >
        {choices.map((choice) =>
          "group" in choice ? (
            <optgroup label={choice.group}>
              {choice.choices.map((inner) => (
                <Option {...inner} chosen={value} />
              ))}
            </optgroup>
          ) : (
            <Option {...choice} chosen={value} />
          ),
        )}
      </select>
    </div>
  );
}

function Option({ value, label, chosen }: Choice & { chosen: string }) {
  return (
    <option value={value} selected={value === chosen}>
      {label}
    </option>
  );
}

interface RadioFieldProps extends FieldProps {
  value: string;
  choices: readonly Choice[];
}

/**
 * One question with few answers, all in sight. The first radio carries the field's id, so that a summary can link to
 * it.
 */
export function RadioField(props: RadioFieldProps) {
  const { id, name, label, hint, error, value, choices } = props;
  return (
    <fieldset class="field" aria-describedby={descriptions(props)}>
      <legend>{label}</legend>
      <Notes id={id} hint={hint} error={error} />
      <div class="choices">
        {choices.map((choice, index) => (
          <label class="choice">
            <input
              type="radio"
              id={index === 0 ? id : `${id}-${choice.value}`}
              name={name}
              value={choice.value}
              checked={choice.value === value}
            />
            {choice.label}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

function FieldHead({ id, label, hint, error, saying }: FieldProps) {
  return (
    <>
      <label class="label-text" for={id}>
        {label}
      </label>
      <Notes id={id} hint={hint} error={error} saying={saying} />
    </>
  );
}

function Notes({ id, hint, error, saying }: Described) {
  return (
    <>
      {hint !== undefined && (
        <span class="hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
      {error !== undefined && <ErrorText id={id} message={error} saying={saying} />}
    </>
  );
}

/** The error message of the input `id`. */
export function ErrorText({
  id,
  message,
  saying = (text) => `Error: ${text}`,
}: {
  id: string;
  message: string;
  /** Marks the message as an error for those who hear it, in the language of the page. */
  saying?: ((message: string) => string) | undefined;
}) {
  return (
    <span class="error" id={`${id}-error`}>
      <span class="visually-hidden">{saying("")}</span>
      {message}
    </span>
  );
}

function isWrong({ error, invalid = false }: FieldProps): boolean {
  return invalid || error !== undefined;
}

function descriptions({ id, hint, error }: Described, elsewhere?: string): string | undefined {
  const ids = [
    elsewhere,
    hint === undefined ? undefined : `${id}-hint`,
    error === undefined ? undefined : `${id}-error`,
  ].filter((one) => one !== undefined);
  return ids.length === 0 ? undefined : ids.join(" ");
}
