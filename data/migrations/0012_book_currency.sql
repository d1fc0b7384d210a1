-- A price book says itself what its prices are in: until now it was whatever the workspace was set to. So does the copy
-- of it that a quote was made from, which goes by the quote.
UPDATE price_books SET book = json_set(book, '$.currency',
  (SELECT currency FROM workspaces WHERE workspaces.workspace_id = price_books.workspace_id))
  WHERE book ->> '$.currency' IS NULL;

UPDATE quotes SET content = json_set(content, '$.book.currency', content ->> '$.currency')
  WHERE content ->> '$.book.currency' IS NULL;

-- What the money of a fleet's figures is in. Those that are there were worked out with the general prices.
ALTER TABLE fleet_answers ADD COLUMN currency TEXT NOT NULL DEFAULT 'USD';
