-- No two price books in use have one name. Old doubles get a number, or where that is taken, too, signs of their id.
-- The key is what the program makes of a name; for books of before, what SQLite can make of it until they are saved.
ALTER TABLE price_books ADD COLUMN name_key TEXT;

UPDATE price_books SET name_key = lower(trim(book ->> '$.name'));

UPDATE price_books SET version = version + 1, book = json_set(book, '$.name', substr(trim(book ->> '$.name'), 1, 64) || ' '
  || (SELECT count(*) + 1 FROM price_books AS other WHERE other.workspace_id = price_books.workspace_id
    AND other.archived_at IS NULL AND other.name_key = price_books.name_key
    AND (other.created_at, other.id) < (price_books.created_at, price_books.id)))
  WHERE archived_at IS NULL AND EXISTS (SELECT 1 FROM price_books AS other
    WHERE other.workspace_id = price_books.workspace_id AND other.archived_at IS NULL AND other.name_key = price_books.name_key
    AND (other.created_at, other.id) < (price_books.created_at, price_books.id));

UPDATE price_books SET name_key = lower(trim(book ->> '$.name'));

UPDATE price_books SET version = version + 1, book = json_set(book, '$.name', substr(book ->> '$.name', 1, 66) || ' ' || substr(id, 1, 12))
  WHERE archived_at IS NULL AND EXISTS (SELECT 1 FROM price_books AS other
    WHERE other.workspace_id = price_books.workspace_id AND other.archived_at IS NULL AND other.name_key = price_books.name_key
    AND (other.created_at, other.id) < (price_books.created_at, price_books.id));

UPDATE price_books SET name_key = lower(trim(book ->> '$.name'));

CREATE UNIQUE INDEX price_books_in_use_by_name ON price_books (name_key, workspace_id) WHERE archived_at IS NULL;
