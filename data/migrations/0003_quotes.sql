-- What a shop asks, and what it has offered. Money in JSON is whole smallest units or scaled whole numbers (src/core/quantities/money.ts).

CREATE TABLE price_books (
  workspace_id TEXT    NOT NULL REFERENCES workspaces (workspace_id),
  id           TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  book         TEXT    NOT NULL CHECK (json_valid(book) AND json_type(book) = 'object'),
  archived_at  TEXT,
  version      INTEGER NOT NULL CHECK (version >= 1),
  created_at   TEXT    NOT NULL,
  created_by   TEXT    NOT NULL,
  updated_at   TEXT    NOT NULL,
  updated_by   TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, id)
) STRICT;

-- What stands at the head of a quote, and how amounts are written in it.
CREATE TABLE letterheads (
  workspace_id TEXT    NOT NULL PRIMARY KEY REFERENCES workspaces (workspace_id),
  letterhead   TEXT    NOT NULL CHECK (json_valid(letterhead) AND json_type(letterhead) = 'object'),
  version      INTEGER NOT NULL CHECK (version >= 1),
  updated_at   TEXT    NOT NULL,
  updated_by   TEXT    NOT NULL
) STRICT;

CREATE TABLE quotes (
  workspace_id       TEXT    NOT NULL,
  id                 TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  vehicle_id         TEXT    NOT NULL,
  number             INTEGER NOT NULL CHECK (number >= 1), -- counts up in a workspace: what people call it by
  status             TEXT    NOT NULL CHECK (status IN ('draft', 'sent', 'accepted', 'declined', 'withdrawn')),
  content            TEXT    NOT NULL CHECK (json_valid(content)),
  replaces           TEXT, -- an earlier quote, withdrawn when this one is sent
  snapshot           TEXT    CHECK (json_valid(snapshot)), -- as it was sent
  valid_until        TEXT    CHECK (date(valid_until) IS valid_until), -- the last day
  token_hash         TEXT    UNIQUE CHECK (length(token_hash) = 64), -- of the customer's link; the token itself is kept nowhere
  sent_at            TEXT,
  sent_by            TEXT,
  decided_at         TEXT,
  decided_name       TEXT    CHECK (length(decided_name) BETWEEN 1 AND 120), -- as the customer typed it
  decided_option     TEXT, -- NULL: declined
  decided_keep_years REAL,
  withdrawn_at       TEXT,
  withdrawn_by       TEXT,
  work               TEXT    CHECK (json_valid(work)), -- what was done and logged after a yes
  work_at            TEXT,
  work_by            TEXT,
  version            INTEGER NOT NULL CHECK (version >= 1),
  created_at         TEXT    NOT NULL,
  created_by         TEXT    NOT NULL,
  updated_at         TEXT    NOT NULL,
  updated_by         TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, id),
  UNIQUE (workspace_id, number),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE, -- examples only
  CHECK ((status = 'draft') = (snapshot IS NULL)),
  CHECK ((snapshot IS NULL) = (sent_at IS NULL) AND (snapshot IS NULL) = (valid_until IS NULL)),
  CHECK ((status IN ('accepted', 'declined')) = (decided_at IS NOT NULL)),
  CHECK ((status = 'accepted') = (decided_option IS NOT NULL)),
  CHECK ((status = 'withdrawn') = (withdrawn_at IS NOT NULL)),
  CHECK ((work IS NULL) = (work_at IS NULL) AND (work IS NULL OR status = 'accepted'))
) STRICT;

CREATE INDEX quotes_of_vehicle ON quotes (workspace_id, vehicle_id, number);

CREATE TRIGGER quotes_stay_as_sent BEFORE UPDATE ON quotes
WHEN OLD.status <> 'draft' AND (NEW.content IS NOT OLD.content OR NEW.snapshot IS NOT OLD.snapshot OR NEW.number IS NOT OLD.number OR NEW.vehicle_id IS NOT OLD.vehicle_id OR NEW.valid_until IS NOT OLD.valid_until OR NEW.sent_at IS NOT OLD.sent_at OR NEW.sent_by IS NOT OLD.sent_by)
BEGIN SELECT RAISE(ABORT, 'a quote that was sent is not edited'); END;
CREATE TRIGGER quotes_are_decided_once BEFORE UPDATE ON quotes
WHEN (OLD.decided_at IS NOT NULL OR OLD.withdrawn_at IS NOT NULL) AND (NEW.status IS NOT OLD.status OR NEW.decided_at IS NOT OLD.decided_at OR NEW.decided_name IS NOT OLD.decided_name OR NEW.decided_option IS NOT OLD.decided_option OR NEW.decided_keep_years IS NOT OLD.decided_keep_years OR NEW.withdrawn_at IS NOT OLD.withdrawn_at)
BEGIN SELECT RAISE(ABORT, 'a quote is decided once'); END;
CREATE TRIGGER quotes_keep_what_was_sent BEFORE DELETE ON quotes
WHEN OLD.status <> 'draft' AND EXISTS (SELECT 1 FROM vehicles WHERE workspace_id = OLD.workspace_id AND id = OLD.vehicle_id)
BEGIN SELECT RAISE(ABORT, 'a quote that was sent is kept'); END;
