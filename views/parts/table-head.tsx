import type { Child } from "hono/jsx";

/** The head of a table: columns of words, then columns of figures; `children` are headings of another kind. */
export function TableHead({
  words = [],
  figures = [],
  children,
}: {
  words?: readonly Child[];
  figures?: readonly Child[];
  children?: Child;
}) {
  return (
    <thead>
      <tr>
        {words.map((name) => (
          <th scope="col">{name}</th>
        ))}
        {figures.map((name) => (
          <th scope="col" class="figure-cell">
            {name}
          </th>
        ))}
        {children}
      </tr>
    </thead>
  );
}

/** The head of a table that a chart is drawn from: its script finds the columns by the names that stand first. */
export function ChartHead({
  words,
  figures,
}: {
  words: Readonly<Record<string, Child>>;
  figures: Readonly<Record<string, Child>>;
}) {
  return (
    <thead>
      <tr>
        {Object.entries(words).map(([column, name]) => (
          <th scope="col" data-column={column}>
            {name}
          </th>
        ))}
        {Object.entries(figures).map(([column, name]) => (
          <th scope="col" class="figure-cell" data-column={column}>
            {name}
          </th>
        ))}
      </tr>
    </thead>
  );
}
