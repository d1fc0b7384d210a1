import type { Context } from "hono";
import { getCookie, setCookie } from "hono/cookie";
import { PERSONS, type Person } from "../../../views/navigation.tsx";

const COOKIE = "seepwise-for";
const KEPT_SECONDS = 400 * 24 * 3600; // the longest that browsers keep a cookie

/** Whom this browser chose the pages for; null before a choice. Grants nothing. */
export function personOf(c: Context): Person | null {
  const said = getCookie(c, COOKIE);
  return PERSONS.find((person) => person === said) ?? null;
}

/** Keeps the choice in this browser. */
export function keepPerson(c: Context, person: Person, { secure }: { secure: boolean }): void {
  setCookie(c, COOKIE, person, { path: "/", httpOnly: true, sameSite: "Lax", secure, maxAge: KEPT_SECONDS });
}
