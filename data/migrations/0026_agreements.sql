-- What shop and customer agree on besides the option: promised day, limit of extra work, deposit. A change is added to
-- the ones before, so that none is lost; the last one holds.
ALTER TABLE quotes ADD COLUMN agreed TEXT CHECK (json_valid(agreed) AND json_type(agreed) = 'array');

CREATE TRIGGER quotes_keep_what_was_agreed BEFORE UPDATE ON quotes
WHEN OLD.agreed IS NOT NULL AND coalesce(json_array_length(NEW.agreed), 0) < json_array_length(OLD.agreed)
BEGIN SELECT RAISE(ABORT, 'what was agreed is kept'); END;

ALTER TABLE payments ADD COLUMN deposit INTEGER NOT NULL DEFAULT 0 CHECK (deposit IN (0, 1)); -- 1: paid before the invoice

CREATE TRIGGER payments_keep_their_kind BEFORE UPDATE OF deposit ON payments
BEGIN SELECT RAISE(ABORT, 'a payment is not edited'); END;
