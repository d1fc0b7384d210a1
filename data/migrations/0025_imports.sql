-- What came in with which import, so that an import can be taken back; orders by which a corrected file finds its entry;
-- and how a file with the same headers was read the last time.

DELETE FROM imports;

ALTER TABLE imports ADD COLUMN taken_at TEXT; -- NULL: it waits
ALTER TABLE imports ADD COLUMN taken_by TEXT;
ALTER TABLE imports ADD COLUMN undone_at TEXT; -- NULL: it stands
ALTER TABLE imports ADD COLUMN undone_by TEXT;
ALTER TABLE imports ADD COLUMN undone TEXT CHECK (json_valid(undone)); -- what was taken back, and what stayed

CREATE TABLE import_rows (
  workspace_id TEXT    NOT NULL,
  import_id    TEXT    NOT NULL,
  kind         TEXT    NOT NULL CHECK (kind IN ('vehicle', 'particulars', 'entry', 'correction')),
  subject_id   TEXT    NOT NULL, -- of the vehicle or the entry
  vehicle_id   TEXT    NOT NULL,
  version      INTEGER NOT NULL CHECK (version >= 1), -- that the import made: a later one was built on it
  before       TEXT    CHECK (json_valid(before)), -- particulars that it replaced
  PRIMARY KEY (workspace_id, import_id, kind, subject_id),
  FOREIGN KEY (workspace_id, import_id) REFERENCES imports (workspace_id, id) ON DELETE CASCADE,
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE
) STRICT;

CREATE INDEX import_rows_of_vehicle ON import_rows (workspace_id, vehicle_id);

CREATE TABLE entry_orders (
  workspace_id TEXT NOT NULL,
  entry_id     TEXT NOT NULL,
  vehicle_id   TEXT NOT NULL,
  order_key    TEXT NOT NULL, -- as orders are compared: case and spaces make no difference
  PRIMARY KEY (workspace_id, entry_id),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE
) STRICT;

CREATE INDEX entry_orders_of_vehicle ON entry_orders (workspace_id, vehicle_id);

CREATE TABLE import_mappings (
  workspace_id TEXT NOT NULL REFERENCES workspaces (workspace_id),
  headers      TEXT NOT NULL CHECK (length(headers) BETWEEN 1 AND 20000),
  answers      TEXT NOT NULL CHECK (json_valid(answers)),
  used_at      TEXT NOT NULL,
  PRIMARY KEY (workspace_id, headers)
) STRICT;
