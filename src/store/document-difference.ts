import type { Line, Vehicle } from "../core/question/record.ts";
import { canonicalJson } from "./hash.ts";
import type { SavedLetterhead } from "./letterheads.ts";
import { freeBookName, type OwnBook } from "./price-books.ts";
import type { Quote } from "./quote-row.ts";
import {
  heldApart,
  SHOP_LIST_NAMES,
  SHOP_LISTS,
  type ShopListName,
  type ShopLists,
  type ShopRecords,
} from "./shop-lists.ts";
import { vehicleInputOf } from "./vehicles.ts";
import type { WorkspaceDocument } from "./workspace-document.ts";
import { settingsOf, type Workspace } from "./workspaces.ts";

/** Entries of one part of a document, by key: new here (`added`), the same as here, or different from here. */
export interface Compared<T> {
  added: T[];
  same: number;
  differing: { our: T; their: T }[];
}

function compared<T>(
  ours: readonly T[],
  theirs: readonly T[],
  key: (one: T) => string,
  content: (one: T) => unknown,
): Compared<T> {
  const our_by_key = new Map(ours.map((our) => [key(our), our]));
  const result: Compared<T> = { added: [], same: 0, differing: [] };
  for (const their of theirs) {
    const our = our_by_key.get(key(their));
    if (our === undefined) result.added.push(their);
    else if (canonicalJson(content(our)) === canonicalJson(content(their))) result.same += 1;
    else result.differing.push({ our, their });
  }
  return result;
}

/** Compares the lines of a ledger. Once two histories of an entry differ, all later lines of it count as different. */
function comparedLines<Content>(
  ours: readonly Line<Content>[],
  theirs: readonly Line<Content>[],
): Compared<Line<Content>> {
  const result = compared(
    ours,
    theirs,
    ({ id, version }) => `${id} ${version}`,
    (line) => line,
  );
  const parted = new Map(result.differing.map(({ our }) => [our.id, our]));
  const differing = result.added.flatMap((their) => {
    const our = parted.get(their.id);
    return our === undefined ? [] : [{ our, their }];
  });
  return {
    added: result.added.filter(({ id }) => !parted.has(id)),
    same: result.same,
    differing: [...result.differing, ...differing],
  };
}

/** Part by part, what a document has beside what is here. */
export function differenceOf(ours: WorkspaceDocument, document: WorkspaceDocument) {
  return {
    settings: settingsFate(ours.workspace, document.workspace),
    letterhead: letterheadFate(ours.letterhead, document.letterhead),
    vehicles: compared(ours.vehicles, document.vehicles, idOf, vehicleContent),
    charge_log: comparedLines(ours.charge_log, document.charge_log),
    findings: comparedLines(ours.findings, document.findings),
    readings: comparedLines(ours.readings, document.readings),
    notes: comparedLines(ours.notes, document.notes),
    price_books: withFreeNames(compared(ours.price_books, document.price_books, idOf, bookContent), ours.price_books),
    quotes: withFreeNumbers(compared(ours.quotes, document.quotes, idOf, quoteContent), ours.quotes),
    fleet_names: compared(ours.fleet_names, document.fleet_names, ({ source_key }) => source_key, itself),
    fleet_locks: compared(ours.fleet_locks, document.fleet_locks, ({ vehicle_id }) => vehicle_id, itself),
    shop_lists: heldApart(comparedShopLists(ours, document), ours),
  };
}

type ComparedShopLists = { [Name in ShopListName]: Compared<ShopRecords[Name]> };

function comparedShopLists(ours: ShopLists, theirs: ShopLists): ComparedShopLists {
  const compare = <Name extends ShopListName>(name: Name): Compared<ShopRecords[Name]> => {
    const { key, content } = SHOP_LISTS[name];
    return compared(ours[name], theirs[name], key, content);
  };
  return Object.fromEntries(SHOP_LIST_NAMES.map((name) => [name, compare(name)])) as ComparedShopLists;
}

export type Difference = ReturnType<typeof differenceOf>;

function itself<T>(one: T): T {
  return one;
}

function idOf({ id }: { id: string }): string {
  return id;
}

/** What a vehicle says, apart from when and by whom it was said. */
function vehicleContent(vehicle: Vehicle): unknown {
  return [vehicleInputOf(vehicle), vehicle.example, vehicle.archived_at !== null];
}

function bookContent({ book, archived_at }: OwnBook): unknown {
  return [book, archived_at !== null];
}

/** All that a quote says and that happened to it, whatever number people call it by here. */
function quoteContent({ number, version, created_at, created_by, updated_at, updated_by, ...said }: Quote): unknown {
  return said;
}

/** Imported books in use whose name is taken get a number behind it. */
function withFreeNames(books: Compared<OwnBook>, ours: readonly OwnBook[]): Compared<OwnBook> {
  const names = ours.filter(({ archived_at }) => archived_at === null).map(({ book }) => book.name);
  const added = books.added.map((one) => {
    if (one.archived_at !== null) return one;
    const name = freeBookName(one.book.name, names);
    names.push(name);
    return name === one.book.name ? one : { ...one, book: { ...one.book, name } };
  });
  return { ...books, added };
}

/** Of two workspaces that both counted from 1: imported quotes whose number is taken get a new one. */
function withFreeNumbers(quotes: Compared<Quote>, ours: readonly Quote[]) {
  const taken = new Set(ours.map(({ number }) => number));
  let next = [...ours, ...quotes.added].reduce((most, { number }) => Math.max(most, number), 0) + 1;
  const added = quotes.added.map((quote) => (taken.has(quote.number) ? { ...quote, number: next++ } : quote));
  const renumbered = added.flatMap(({ number: becomes }, i) => {
    const { number } = quotes.added[i]!;
    return becomes === number ? [] : [{ number, becomes }];
  });
  return { ...quotes, added, renumbered };
}

/** What an import does with something that a workspace has once: `taken` where nobody had set it here, else `kept`. */
export type Fate = "taken" | "same" | "kept";

/** Settings that nobody has changed yet are replaced by those of the file. */
function settingsFate(ours: Workspace, theirs: Workspace): Fate {
  if (canonicalJson(settingsOf(ours)) === canonicalJson(settingsOf(theirs))) return "same";
  return ours.version === 1 ? "taken" : "kept";
}

function letterheadFate(ours: SavedLetterhead | null, theirs: SavedLetterhead | null): Fate | null {
  if (theirs === null) return null;
  if (ours === null) return "taken";
  return canonicalJson(ours.letterhead) === canonicalJson(theirs.letterhead) ? "same" : "kept";
}
