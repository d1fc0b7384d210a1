import { linksOnNode } from "../../support/links-app.ts";
import { EditorsDesk } from "../../support/links-desk.ts";
import { formIn } from "../../support/page-form.ts";
import type { Person } from "../../support/person.ts";

/** Someone at the price books of a workspace, which begins with sample prices. */
export class PricesDesk extends EditorsDesk {
  constructor() {
    super(() => linksOnNode());
  }

  /** The form of a book as its page has it. */
  async formOf(path: string): Promise<URLSearchParams> {
    return bookForm(await this.editor.page(path), path);
  }

  /** Sends a book as a file; `into` names the book that it takes the place of, with its version. */
  async upload(text: string, into = "", by: Person = this.editor): Promise<Response> {
    const body = new FormData();
    body.set("into", into);
    body.set("file", new File([text], "book.csv", { type: "text/csv" }));
    return by.postFile("/prices/import", body);
  }
}

/** The form in a page that sends a book to `path`. */
export function bookForm(page: string, path: string): URLSearchParams {
  return formIn(page.replace(`<form method="post" action="${path}"`, `$& id="book"`), "book");
}
