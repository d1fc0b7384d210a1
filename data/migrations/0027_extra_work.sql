-- An invoice for extra work names who said yes to it: that name goes with the person, too.
DROP TRIGGER invoices_stay_as_issued;

CREATE TRIGGER invoices_stay_as_issued BEFORE UPDATE ON invoices
WHEN NOT (EXISTS (SELECT 1 FROM customers WHERE workspace_id = OLD.workspace_id AND erasing = 1)
  AND json_remove(NEW.document, '$.customer', '$.vehicle.shown', '$.extra.yes.name') IS json_remove(OLD.document, '$.customer', '$.vehicle.shown', '$.extra.yes.name'))
BEGIN SELECT RAISE(ABORT, 'an invoice is not edited'); END;
