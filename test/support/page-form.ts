/** The fields of a form in a page as a browser would send them, so that a test can change one and send it back. */
export function formIn(page: string, form_id: string): URLSearchParams {
  const form = formsIn(page).find((one) => attribute(one, "id") === form_id);
  if (form === undefined) throw new Error(`No form ${form_id} in the page`);
  return formFields(form);
}

/** The forms of a page, each from its tag to its end. */
export function formsIn(page: string): string[] {
  return page.match(/<form\b[\s\S]*?<\/form>/g) ?? [];
}

/** What is in the fields of a form, as a browser would send it. */
export function formFields(form: string): URLSearchParams {
  const fields = new URLSearchParams();
  for (const [whole, input, textarea] of form.matchAll(CONTROLS)) {
    const name = attribute(whole, "name");
    if (name === null) continue;
    if (input !== undefined) {
      const type = attribute(whole, "type");
      if ((type === "checkbox" || type === "radio") && !/\schecked(?:=|\s|\/|>)/.test(whole)) continue;
      fields.append(name, attribute(whole, "value") ?? "");
    } else if (textarea !== undefined) {
      fields.append(name, decoded(/>\s*\n?([\s\S]*)<\/textarea>/.exec(whole)?.[1] ?? ""));
    } else {
      const chosen = /<option[^>]*\sselected[^>]*>/.exec(whole)?.[0] ?? /<option[^>]*>/.exec(whole)?.[0] ?? "";
      fields.append(name, attribute(chosen, "value") ?? "");
    }
  }
  return fields;
}

const CONTROLS = /<(input)\b[^>]*>|<(textarea)\b[\s\S]*?<\/textarea>|<(select)\b[\s\S]*?<\/select>/g;

/** An attribute of the first tag, as it is meant; null where the tag has none. */
export function attribute(tag: string, name: string): string | null {
  const value = new RegExp(`\\s${name}="([^"]*)"`).exec(tag)?.[1];
  return value === undefined ? null : decoded(value);
}

/** What the reader of a page sees for a piece of its text. */
export function decoded(text: string): string {
  return text
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&#39;", "'")
    .replaceAll("&amp;", "&");
}

/** The words of a page without its tags, spaces run together. */
export function textOf(page: string): string {
  return decoded(
    page
      .replace(/<(script|style)\b[\s\S]*?<\/\1>/g, "")
      .replace(/<[^>]+>/g, " ")
      .replace(/[\s\u00a0\u202f]+/g, " "),
  );
}
