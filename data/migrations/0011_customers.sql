-- Who comes to the counter, and their vehicles as papers name them. What identifies a person stands here and in few other places, so
-- that it can be erased.

CREATE TABLE customers (
  workspace_id TEXT    NOT NULL REFERENCES workspaces (workspace_id),
  id           TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name         TEXT    NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  phone        TEXT    NOT NULL CHECK (length(phone) <= 60), -- '' in these four: not said
  email        TEXT    NOT NULL CHECK (length(email) <= 120),
  address      TEXT    NOT NULL CHECK (length(address) <= 400),
  note         TEXT    NOT NULL CHECK (length(note) <= 2000),
  erased_at    TEXT, -- the person is gone from the records; the row keeps the figures together
  erasing      INTEGER NOT NULL DEFAULT 0 CHECK (erasing IN (0, 1)), -- 1 within the one change that erases, and never to be seen
  version      INTEGER NOT NULL CHECK (version >= 1),
  created_at   TEXT    NOT NULL,
  created_by   TEXT    NOT NULL,
  updated_at   TEXT    NOT NULL,
  updated_by   TEXT    NOT NULL,
  sort_key     TEXT    NOT NULL, -- the name as lists sort it
  search_text  TEXT    NOT NULL, -- all of it as search compares it; name and telephone without spaces, too
  PRIMARY KEY (workspace_id, id)
) STRICT;

CREATE INDEX customers_in_order ON customers (workspace_id, sort_key, id);

CREATE TABLE vehicle_particulars (
  workspace_id TEXT    NOT NULL,
  vehicle_id   TEXT    NOT NULL,
  customer_id  TEXT, -- whose it is; NULL: nobody said
  words        TEXT    NOT NULL CHECK (length(words) <= 120), -- year, make and model; '' in these four: not said
  plate        TEXT    NOT NULL CHECK (length(plate) <= 20),
  vin          TEXT    NOT NULL CHECK (length(vin) IN (0, 17)),
  odometer     TEXT    NOT NULL CHECK (length(odometer) <= 20),
  version      INTEGER NOT NULL CHECK (version >= 1),
  created_at   TEXT    NOT NULL,
  created_by   TEXT    NOT NULL,
  updated_at   TEXT    NOT NULL,
  updated_by   TEXT    NOT NULL,
  search_text  TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, vehicle_id),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE, -- examples only
  FOREIGN KEY (workspace_id, customer_id) REFERENCES customers (workspace_id, id)
) STRICT;

CREATE INDEX vehicle_particulars_of_customer ON vehicle_particulars (workspace_id, customer_id);

CREATE TRIGGER customers_are_kept BEFORE DELETE ON customers BEGIN SELECT RAISE(ABORT, 'a customer is erased, not deleted'); END;
CREATE TRIGGER customers_stay_erased BEFORE UPDATE ON customers
WHEN OLD.erased_at IS NOT NULL BEGIN SELECT RAISE(ABORT, 'an erased customer stays erased'); END;

-- While a person is erased the free words of the ledgers may go. Figures, dates and who recorded them never change.
DROP TRIGGER charge_log_is_not_edited;
DROP TRIGGER findings_is_not_edited;
DROP TRIGGER notes_is_not_edited;
DROP TRIGGER readings_is_not_edited;
CREATE TRIGGER charge_log_is_not_edited BEFORE UPDATE ON charge_log
WHEN NOT EXISTS (SELECT 1 FROM customers WHERE workspace_id = OLD.workspace_id AND erasing = 1)
BEGIN SELECT RAISE(ABORT, 'a ledger is not edited'); END;
CREATE TRIGGER findings_is_not_edited BEFORE UPDATE ON findings
WHEN NOT EXISTS (SELECT 1 FROM customers WHERE workspace_id = OLD.workspace_id AND erasing = 1)
BEGIN SELECT RAISE(ABORT, 'a ledger is not edited'); END;
CREATE TRIGGER notes_is_not_edited BEFORE UPDATE ON notes
WHEN NOT EXISTS (SELECT 1 FROM customers WHERE workspace_id = OLD.workspace_id AND erasing = 1)
BEGIN SELECT RAISE(ABORT, 'a ledger is not edited'); END;
CREATE TRIGGER readings_is_not_edited BEFORE UPDATE ON readings
WHEN NOT EXISTS (SELECT 1 FROM customers WHERE workspace_id = OLD.workspace_id AND erasing = 1)
BEGIN SELECT RAISE(ABORT, 'a ledger is not edited'); END;

CREATE TRIGGER charge_log_keeps_its_figures BEFORE UPDATE OF workspace_id, id, version, replaces, change, vehicle_id, number, date, cooling, recovered_g, added_g, added_by, finish, repair, dye, cooling_after, cans_opened, deposit, deposit_return_by, recorded_at, recorded_by ON charge_log
BEGIN SELECT RAISE(ABORT, 'a ledger is not edited'); END;
CREATE TRIGGER findings_keeps_its_figures BEFORE UPDATE OF workspace_id, id, version, replaces, change, vehicle_id, number, date, test, location, result, recorded_at, recorded_by ON findings
BEGIN SELECT RAISE(ABORT, 'a ledger is not edited'); END;
CREATE TRIGGER notes_keeps_its_heads BEFORE UPDATE OF workspace_id, id, version, replaces, change, vehicle_id, number, recorded_at, recorded_by ON notes
BEGIN SELECT RAISE(ABORT, 'a ledger is not edited'); END;
CREATE TRIGGER readings_keeps_its_figures BEFORE UPDATE OF workspace_id, id, version, replaces, change, vehicle_id, number, date, ambient_c, humidity_percent, altitude_m, static_kpa, low_kpa, high_kpa, engine_rpm, vent_c, clutch, fan, condenser, more_air, suction_line_c, liquid_line_c, equalizing_s, sight_glass, metering, compressor, recorded_at, recorded_by ON readings
BEGIN SELECT RAISE(ABORT, 'a ledger is not edited'); END;

-- The same for a quote that was sent: names and what tells the vehicle may go, prices and answers stay.
DROP TRIGGER quotes_stay_as_sent;
CREATE TRIGGER quotes_stay_as_sent BEFORE UPDATE ON quotes
WHEN OLD.status <> 'draft' AND (NEW.number IS NOT OLD.number OR NEW.vehicle_id IS NOT OLD.vehicle_id OR NEW.valid_until IS NOT OLD.valid_until OR NEW.sent_at IS NOT OLD.sent_at OR NEW.sent_by IS NOT OLD.sent_by
  OR ((NEW.content IS NOT OLD.content OR NEW.snapshot IS NOT OLD.snapshot) AND NOT (
    EXISTS (SELECT 1 FROM customers WHERE workspace_id = OLD.workspace_id AND erasing = 1)
    AND json_remove(NEW.content, '$.customer', '$.customer_id', '$.note', '$.recommended_why', '$.vehicle_shown') IS json_remove(OLD.content, '$.customer', '$.customer_id', '$.note', '$.recommended_why', '$.vehicle_shown')
    AND json_remove(NEW.snapshot, '$.customer', '$.note', '$.recommended_why', '$.vehicle.shown', '$.vehicle.label') IS json_remove(OLD.snapshot, '$.customer', '$.note', '$.recommended_why', '$.vehicle.shown', '$.vehicle.label'))))
BEGIN SELECT RAISE(ABORT, 'a quote that was sent is not edited'); END;

DROP TRIGGER quotes_are_decided_once;
CREATE TRIGGER quotes_are_decided_once BEFORE UPDATE ON quotes
WHEN (OLD.decided_at IS NOT NULL OR OLD.withdrawn_at IS NOT NULL) AND (NEW.status IS NOT OLD.status OR NEW.decided_at IS NOT OLD.decided_at OR NEW.decided_option IS NOT OLD.decided_option OR NEW.decided_keep_years IS NOT OLD.decided_keep_years OR NEW.withdrawn_at IS NOT OLD.withdrawn_at
    OR (NEW.decided_name IS NOT OLD.decided_name AND NOT EXISTS (SELECT 1 FROM customers WHERE workspace_id = OLD.workspace_id AND erasing = 1)))
  AND NOT (OLD.decided_at IS NOT NULL AND OLD.work IS NULL AND NEW.status = 'sent' AND NEW.decided_at IS NULL AND coalesce(json_array_length(NEW.earlier_answers), 0) = coalesce(json_array_length(OLD.earlier_answers), 0) + 1)
BEGIN SELECT RAISE(ABORT, 'a quote is decided once'); END;
