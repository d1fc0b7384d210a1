import type { Context } from "hono";
import { html } from "hono/html";
import type { JSX } from "hono/jsx/jsx-runtime";
import type { ContentfulStatusCode } from "hono/utils/http-status";
import { ForPerson, type Person } from "../../../views/navigation.tsx";
import { personOf } from "./person.ts";

/** The text of a whole page for this person: a view that begins with `<html>`, behind the doctype. */
export async function pageText(view: JSX.Element, person: Person | null): Promise<string> {
  return String(await html`<!DOCTYPE html>${ForPerson({ person, children: view })}`);
}

/**
 * Answers with a whole page; without a status here, with the one that the route has set.
 *
 * @example
 * return answerPage(c, SettingsPage(props), errors.length > 0 ? 422 : 200);
 */
export async function answerPage(c: Context, view: JSX.Element, status?: ContentfulStatusCode): Promise<Response> {
  const text = await pageText(view, personOf(c));
  return status === undefined ? c.html(text) : c.html(text, status);
}
