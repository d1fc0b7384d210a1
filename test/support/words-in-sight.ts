/** The words of a page: those in sight as it arrives, and those behind something folded. */
export interface WordsOfPage {
  in_sight: number;
  folded: number;
}

const VOID = new Set("area base br col embed hr img input link meta source track wbr".split(" "));
/** What nobody reads for its words: menus, choices of a select, what is typed into a field, drawings. */
const LEFT_OUT = new Set(["head", "script", "style", "template", "nav", "select", "textarea", "svg", "canvas"]);
/**
 * Hidden on a desk's screen: the menu, for screen readers, for phones, for paper, and names of columns that stand above
 * the first line already; definitions show on demand.
 */
const UNSEEN =
  /class="[^"]*\b(masthead|visually-hidden|skip-link|definition|answer-line|ask-line|paper-answer|sheet-foot|column-name)\b/;

type Counts = keyof WordsOfPage | "nothing";

interface Open {
  name: string;
  /** What its own text counts as, and what is in it unless it says otherwise. */
  counts: Counts;
  /** What a summary in it counts as. */
  summary: Counts;
}

/**
 * Counts the words of a page of ours, in HTML as JSX writes it: everything closed, attributes in quotes. A word has a
 * letter or a figure. What a closed disclosure holds counts as folded, but for its summary; so do fields that show once
 * it is chosen what was done.
 */
export function wordsOf(page: string): WordsOfPage {
  const words: WordsOfPage = { in_sight: 0, folded: 0 };
  const open: Open[] = [{ name: "", counts: "in_sight", summary: "in_sight" }];
  for (const [, tag, text] of page.matchAll(/<([^>"]*(?:"[^"]*"[^>"]*)*)>|([^<]+)/g)) {
    const around = open.at(-1)!;
    if (text !== undefined) {
      if (around.counts !== "nothing") words[around.counts] += wordCount(text);
    } else if (tag!.startsWith("/")) {
      while (open.length > 1 && open.pop()!.name !== tag!.slice(1).trim());
    } else {
      const name = /^[a-z][\w-]*/i.exec(tag!)?.[0].toLowerCase();
      if (name !== undefined && !VOID.has(name) && !tag!.endsWith("/")) open.push(opened(name, tag!, around));
    }
  }
  return words;
}

function opened(name: string, tag: string, around: Open): Open {
  const outer = name === "summary" ? around.summary : around.counts;
  const unseen = LEFT_OUT.has(name) || UNSEEN.test(tag) || /\shidden(=|\s|$)/.test(tag);
  const counts = unseen ? "nothing" : outer;
  const closed = (name === "details" && !/\sopen(=|\s|$)/.test(tag)) || /class="for-what"/.test(tag);
  return { name, counts: closed && counts === "in_sight" ? "folded" : counts, summary: counts };
}

function wordCount(text: string): number {
  const plain = text.replace(/&(?:#\d+|#x[\da-f]+|\w+);/gi, " ");
  return plain.split(/[\s\u00a0\u202f]+/).filter((word) => /[\p{L}\p{N}]/u.test(word)).length;
}
