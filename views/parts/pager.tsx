interface PagerProps {
  page: number;
  pages: number;
  address: (page: number) => string;
}

/** The way to the pages before and after; nothing where there is one page only. */
export function Pager({ page, pages, address }: PagerProps) {
  if (pages < 2) return null;
  return (
    <nav class="actions" aria-label="Pages">
      {page > 1 && <a href={address(page - 1)}>Page before</a>}
      <span>
        Page {page} of {pages}
      </span>
      {page < pages && <a href={address(page + 1)}>Next page</a>}
    </nav>
  );
}
