import type { Context } from "hono";
import { getCookie, setCookie } from "hono/cookie";
import { PERSONS, type Person } from "../../../views/navigation.tsx";

const COOKIE = "seepwise-for";
const KEPT_SECONDS = 400 * 24 * 3600; // browsers keep none for longer

/** Who this browser once said the pages are for; null where nobody did. Opens nothing. */
export function personOf(c: Context): Person | null {
  const said = getCookie(c, COOKIE);
  return PERSONS.find((person) => person === said) ?? null;
}

/** Keeps the choice in this browser. */
export function keepPerson(c: Context, person: Person, { secure }: { secure: boolean }): void {
  setCookie(c, COOKIE, person, { path: "/", httpOnly: true, sameSite: "Lax", secure, maxAge: KEPT_SECONDS });
}
