import { StoreFailure } from "./errors.ts";
import type { Param, Row } from "./sql.ts";
import { keptText } from "./text.ts";

/** Converts between a value and its column: the only place where the two types meet. */
export interface Column<Value> {
  /** Throws `StoreFailure` corrupt for a value that the column cannot hold. */
  read(stored: Row[string] | undefined): Value;
  write(value: Value): Param;
}

/** The columns of a table or selection: one for each field of `Of`, by name and in order. */
export type Columns<Of> = { readonly [Name in keyof Of & string]-?: Column<Of[Name]> };

export const text: Column<string> = {
  read: (stored) => (typeof stored === "string" ? stored : damaged(stored)),
  write: keptText,
};

export const number: Column<number> = {
  read: (stored) => (typeof stored === "number" ? stored : damaged(stored)),
  write: (value) => value,
};

/** A boolean, stored as 0 or 1. */
export const flag: Column<boolean> = {
  read: (stored) => (stored === 1 ? true : stored === 0 ? false : damaged(stored)),
  write: (value) => (value ? 1 : 0),
};

/** One of a few words. */
export function oneOf<const Word extends string>(words: readonly Word[]): Column<Word> {
  return {
    read: (stored) => (words.includes(stored as Word) ? (stored as Word) : damaged(stored)),
    write: (word) => word,
  };
}

/** A list or an object as JSON; what is in it was checked before it was written. */
export function json<Value>(): Column<Value> {
  return {
    read: (stored) => JSON.parse(text.read(stored)),
    write: (value) => JSON.stringify(value),
  };
}

/** The same column where NULL is allowed. */
export function nullable<Value>({ read, write }: Column<Value>): Column<Value | null> {
  return {
    read: (stored) => (stored === null ? null : read(stored)),
    write: (value) => (value === null ? null : write(value)),
  };
}

/** The names of the columns, in order. */
export function namesOf<Of>(columns: Columns<Of>): (keyof Of & string)[] {
  return Object.keys(columns) as (keyof Of & string)[];
}

/** Some of the columns, by name. */
export function columnsOf<Of, Name extends keyof Of & string>(
  columns: Columns<Of>,
  names: readonly Name[],
): Columns<Pick<Of, Name>> {
  const some: Partial<Pick<Columns<Of>, Name>> = {};
  for (const name of names) some[name] = columns[name];
  return some as Columns<Pick<Of, Name>>;
}

/** `name = ?` for each column of a row, to go after SET. */
export function assignments(row: Record<string, Param>): string {
  return Object.keys(row)
    .map((name) => `${name} = ?`)
    .join(", ");
}

/** A reader of the named columns; other columns are ignored. */
export function rowReader<Of>(columns: Columns<Of>): (row: Row) => Of {
  const names = namesOf(columns);
  // Looked up once: an export reads a hundred thousand rows.
  const reads = names.map((name) => columns[name].read);
  return (row) => {
    const of: Partial<Of> = {};
    for (let i = 0; i < names.length; i++) of[names[i]!] = reads[i]!(row[names[i]!]);
    return of as Of;
  };
}

/** A writer of the named columns. */
export function rowWriter<Of>(columns: Columns<Of>): (of: Of) => Record<string, Param> {
  const names = namesOf(columns);
  return (of) => Object.fromEntries(names.map((name) => [name, columns[name].write(of[name])]));
}

/** The fields of `of` that `columns` name. */
export function picked<Of>(columns: Columns<Of>, of: Of): Of {
  const some: Partial<Of> = {};
  for (const name of namesOf(columns)) some[name] = of[name];
  return some as Of;
}

function damaged(stored: unknown): never {
  throw new StoreFailure("corrupt", new TypeError(`Not what this column holds: ${stored}`));
}
