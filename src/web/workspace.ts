import { PLACES, type PlaceId } from "../../data/rules.ts";
import type { MoneyAndUnits } from "../../views/fleet/shown.ts";
import type { PricesUsed } from "../../views/parts/prices-used.tsx";
import type { GaugeStyle } from "../../views/readings/said-readings.ts";

import type { UnitSystem } from "../core/quantities/units.ts";
import { ownerIsPriced, type PriceTerms, priceTerms } from "../core/quotes/price-terms.ts";
import { isPlace } from "../core/rules/rules.ts";
import type { OwnBook } from "../store/price-books.ts";
import type { Workspace } from "../store/workspaces.ts";
import { calendarDay } from "./edge/calendar-day.ts";
import type { DayContext } from "./forms/form-reading.ts";

/** The unit system of the workspace. */
export function unitsOf({ mass_unit }: Pick<Workspace, "mass_unit">): UnitSystem {
  return mass_unit === "g" ? "metric" : "us";
}

/** Units of gauge and thermometer readings in the workspace. */
export function gaugesOf({ temperature_unit, pressure_unit }: Workspace): GaugeStyle {
  return { units: temperature_unit === "C" ? "metric" : "us", gauge: pressure_unit };
}

/** The units of the workspace, and the money that its answers are in; `books` are its own. */
export function moneyAndUnits(workspace: Workspace, books: readonly OwnBook[]): MoneyAndUnits {
  const prices = workspacePrices(workspace, books);
  return { units: unitsOf(workspace), currency: prices.currency, prices };
}

/** Whose prices a page of many vehicles was worked out with. */
export function workspacePrices(workspace: Workspace, books: readonly OwnBook[]): PricesUsed {
  const used = usedUnder(priceTerms(workspace, books, { fleet_group: null }));
  const of_groups = usedUnder(priceTerms(workspace, books, { fleet_group: "any" })).book;
  return { ...used, book_of_groups: of_groups?.id === used.book?.id ? null : of_groups };
}

/** Whose prices those are, for a page to say. */
export function usedUnder(terms: PriceTerms): PricesUsed {
  const { currency, wanted, book } = terms;
  return {
    by_shop: !ownerIsPriced(terms),
    currency,
    wanted,
    book: book === null ? null : { id: book.id, name: book.book.name, changed_on: book.updated_at.slice(0, 10) },
  };
}

/** A place whose rules we know; elsewhere, where nobody said one. */
export function placeOf(said: string | null): PlaceId {
  return said !== null && isPlace(said) ? said : "elsewhere";
}

/** How days are read that are typed in the workspace. */
export function dayContextOf(workspace: Pick<Workspace, "time_zone" | "place">, now: Date): DayContext {
  return { today: todayIn(workspace, now), date_order: PLACES[placeOf(workspace.place)].date_order };
}

/** The calendar day where the workspace is, `YYYY-MM-DD`. */
export function todayIn({ time_zone }: Pick<Workspace, "time_zone">, now: Date): string {
  return calendarDay(now, time_zone);
}
