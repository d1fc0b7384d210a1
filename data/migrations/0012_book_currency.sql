-- A price book says itself what its prices are in: until now it was whatever the workspace was set to. So does the copy
-- of it that a quote was made from, which goes by the quote.
UPDATE price_books SET book = json_set(book, '$.currency',
  (SELECT currency FROM workspaces WHERE workspaces.workspace_id = price_books.workspace_id))
  WHERE book ->> '$.currency' IS NULL;

-- This alone is written into quotes that were sent, whose content otherwise stays: it says what was so.
DROP TRIGGER quotes_stay_as_sent;

UPDATE quotes SET content = json_set(content, '$.book.currency', content ->> '$.currency')
  WHERE content ->> '$.book.currency' IS NULL;

CREATE TRIGGER quotes_stay_as_sent BEFORE UPDATE ON quotes
WHEN OLD.status <> 'draft' AND (NEW.number IS NOT OLD.number OR NEW.vehicle_id IS NOT OLD.vehicle_id OR NEW.valid_until IS NOT OLD.valid_until OR NEW.sent_at IS NOT OLD.sent_at OR NEW.sent_by IS NOT OLD.sent_by
  OR ((NEW.content IS NOT OLD.content OR NEW.snapshot IS NOT OLD.snapshot) AND NOT (
    EXISTS (SELECT 1 FROM customers WHERE workspace_id = OLD.workspace_id AND erasing = 1)
    AND json_remove(NEW.content, '$.customer', '$.customer_id', '$.note', '$.recommended_why', '$.vehicle_shown') IS json_remove(OLD.content, '$.customer', '$.customer_id', '$.note', '$.recommended_why', '$.vehicle_shown')
    AND json_remove(NEW.snapshot, '$.customer', '$.note', '$.recommended_why', '$.vehicle.shown', '$.vehicle.label') IS json_remove(OLD.snapshot, '$.customer', '$.note', '$.recommended_why', '$.vehicle.shown', '$.vehicle.label'))))
BEGIN SELECT RAISE(ABORT, 'a quote that was sent is not edited'); END;

-- What the money of a fleet's figures is in. Those that are there were worked out with the general prices.
ALTER TABLE fleet_answers ADD COLUMN currency TEXT NOT NULL DEFAULT 'USD';
