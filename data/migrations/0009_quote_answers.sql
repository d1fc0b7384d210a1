-- Who took an answer that did not come through the link, and answers that were taken back: none is lost.
ALTER TABLE quotes ADD COLUMN decided_how TEXT CHECK (decided_how IN ('phone', 'paper', 'person')); -- NULL: by the link
ALTER TABLE quotes ADD COLUMN decided_by TEXT; -- who took it; NULL: the customer, by the link
ALTER TABLE quotes ADD COLUMN earlier_answers TEXT CHECK (json_valid(earlier_answers) AND json_type(earlier_answers) = 'array');

DROP TRIGGER quotes_are_decided_once;

-- An answer may be taken back while no work is logged, if it is kept among the earlier ones; it is never written over.
CREATE TRIGGER quotes_are_decided_once BEFORE UPDATE ON quotes
WHEN (OLD.decided_at IS NOT NULL OR OLD.withdrawn_at IS NOT NULL) AND (NEW.status IS NOT OLD.status OR NEW.decided_at IS NOT OLD.decided_at OR NEW.decided_name IS NOT OLD.decided_name OR NEW.decided_option IS NOT OLD.decided_option OR NEW.decided_keep_years IS NOT OLD.decided_keep_years OR NEW.withdrawn_at IS NOT OLD.withdrawn_at)
  AND NOT (OLD.decided_at IS NOT NULL AND OLD.work IS NULL AND NEW.status = 'sent' AND NEW.decided_at IS NULL AND coalesce(json_array_length(NEW.earlier_answers), 0) = coalesce(json_array_length(OLD.earlier_answers), 0) + 1)
BEGIN SELECT RAISE(ABORT, 'a quote is decided once'); END;

CREATE TRIGGER quotes_keep_earlier_answers BEFORE UPDATE ON quotes
WHEN OLD.earlier_answers IS NOT NULL AND coalesce(json_array_length(NEW.earlier_answers), 0) < json_array_length(OLD.earlier_answers)
BEGIN SELECT RAISE(ABORT, 'an answer that was taken back is kept'); END;
