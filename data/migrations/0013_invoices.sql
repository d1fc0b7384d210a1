-- What was billed, given back and paid. Numbers count up without a gap in each series: a row is never changed and never deleted.

CREATE TABLE invoices (
  workspace_id TEXT    NOT NULL,
  id           TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  kind         TEXT    NOT NULL CHECK (kind IN ('invoice', 'credit-note')),
  number       INTEGER NOT NULL CHECK (number >= 1), -- of its kind
  quote_id     TEXT    NOT NULL,
  vehicle_id   TEXT    NOT NULL,
  customer_id  TEXT, -- NULL: in no list of customers
  credits      TEXT, -- of a credit note: the invoice
  document     TEXT    NOT NULL CHECK (json_valid(document) AND json_type(document) = 'object'), -- as it was issued
  currency     TEXT    NOT NULL CHECK (currency GLOB '[A-Z][A-Z][A-Z]'),
  total_minor  INTEGER NOT NULL CHECK (total_minor >= 0),
  issued_on    TEXT    NOT NULL CHECK (date(issued_on) IS issued_on),
  issued_at    TEXT    NOT NULL,
  issued_by    TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, id),
  UNIQUE (workspace_id, kind, number),
  CHECK ((kind = 'credit-note') = (credits IS NOT NULL)),
  FOREIGN KEY (workspace_id, quote_id) REFERENCES quotes (workspace_id, id),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id),
  FOREIGN KEY (workspace_id, customer_id) REFERENCES customers (workspace_id, id),
  FOREIGN KEY (workspace_id, credits) REFERENCES invoices (workspace_id, id)
) STRICT;

CREATE INDEX invoices_of_quote ON invoices (workspace_id, quote_id);
CREATE INDEX invoices_credited ON invoices (workspace_id, credits);
CREATE INDEX invoices_of_customer ON invoices (workspace_id, customer_id);

CREATE TABLE payments (
  workspace_id TEXT    NOT NULL,
  id           TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  invoice_id   TEXT    NOT NULL,
  amount_minor INTEGER NOT NULL CHECK (amount_minor <> 0), -- under 0: paid back, or a payment taken back
  paid_on      TEXT    NOT NULL CHECK (date(paid_on) IS paid_on),
  method       TEXT    NOT NULL CHECK (method IN ('cash', 'card', 'transfer', 'check', 'other')),
  note         TEXT    NOT NULL CHECK (length(note) <= 200),
  reverses     TEXT, -- the payment that this one takes back
  recorded_at  TEXT    NOT NULL,
  recorded_by  TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, id),
  UNIQUE (workspace_id, reverses), -- once
  FOREIGN KEY (workspace_id, invoice_id) REFERENCES invoices (workspace_id, id),
  FOREIGN KEY (workspace_id, reverses) REFERENCES payments (workspace_id, id)
) STRICT;

CREATE INDEX payments_of_invoice ON payments (workspace_id, invoice_id);

-- While a person is erased, names and what tells the vehicle may go; amounts, dates and numbers never.
CREATE TRIGGER invoices_stay_as_issued BEFORE UPDATE ON invoices
WHEN NOT (EXISTS (SELECT 1 FROM customers WHERE workspace_id = OLD.workspace_id AND erasing = 1)
  AND json_remove(NEW.document, '$.customer', '$.vehicle.shown') IS json_remove(OLD.document, '$.customer', '$.vehicle.shown'))
BEGIN SELECT RAISE(ABORT, 'an invoice is not edited'); END;
CREATE TRIGGER invoices_keep_their_figures BEFORE UPDATE OF workspace_id, id, kind, number, quote_id, vehicle_id, customer_id, credits, currency, total_minor, issued_on, issued_at, issued_by ON invoices
BEGIN SELECT RAISE(ABORT, 'an invoice is not edited'); END;
CREATE TRIGGER invoices_are_kept BEFORE DELETE ON invoices BEGIN SELECT RAISE(ABORT, 'an invoice is kept'); END;

CREATE TRIGGER payments_stay_as_recorded BEFORE UPDATE ON payments
WHEN NOT EXISTS (SELECT 1 FROM customers WHERE workspace_id = OLD.workspace_id AND erasing = 1)
BEGIN SELECT RAISE(ABORT, 'a payment is not edited'); END;
CREATE TRIGGER payments_keep_their_figures BEFORE UPDATE OF workspace_id, id, invoice_id, amount_minor, paid_on, method, reverses, recorded_at, recorded_by ON payments
BEGIN SELECT RAISE(ABORT, 'a payment is not edited'); END;
CREATE TRIGGER payments_are_kept BEFORE DELETE ON payments BEGIN SELECT RAISE(ABORT, 'a payment is kept'); END;
