-- The refrigerant log of a shop: cylinders, what came and went, and for each entry of a charge log who did it and which cylinder it was.
-- Amounts recovered and charged stand in the charge log alone.

CREATE TABLE cylinders (
  workspace_id TEXT    NOT NULL REFERENCES workspaces (workspace_id),
  id           TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  name         TEXT    NOT NULL CHECK (length(name) BETWEEN 1 AND 60), -- the number on it
  refrigerant  TEXT    NOT NULL CHECK (refrigerant IN ('R-134a', 'R-1234yf', 'R-12')),
  condition    TEXT    NOT NULL CHECK (condition IN ('new', 'reclaimed', 'recovered')),
  most_g       REAL    CHECK (most_g > 0), -- the most it may hold; NULL: not said
  retired_at   TEXT, -- out of use
  version      INTEGER NOT NULL CHECK (version >= 1),
  created_at   TEXT    NOT NULL,
  created_by   TEXT    NOT NULL,
  updated_at   TEXT    NOT NULL,
  updated_by   TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, id)
) STRICT;

CREATE TABLE cylinder_moves (
  workspace_id TEXT    NOT NULL,
  id           TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  cylinder_id  TEXT    NOT NULL,
  kind         TEXT    NOT NULL CHECK (kind IN ('received', 'returned', 'weighed')),
  date         TEXT    NOT NULL CHECK (date(date) IS date),
  amount_g     REAL    NOT NULL CHECK (amount_g BETWEEN 0 AND 1000000),
  note         TEXT    NOT NULL CHECK (length(note) <= 200), -- from or to whom
  recorded_at  TEXT    NOT NULL,
  recorded_by  TEXT    NOT NULL,
  removed_at   TEXT, -- recorded by mistake; the line stays
  removed_by   TEXT,
  PRIMARY KEY (workspace_id, id),
  FOREIGN KEY (workspace_id, cylinder_id) REFERENCES cylinders (workspace_id, id),
  CHECK ((removed_at IS NULL) = (removed_by IS NULL))
) STRICT;

CREATE INDEX cylinder_moves_of_cylinder ON cylinder_moves (workspace_id, cylinder_id, date);

CREATE TABLE refrigerant_work (
  workspace_id   TEXT    NOT NULL,
  log_id         TEXT    NOT NULL, -- the entry of the charge log
  vehicle_id     TEXT    NOT NULL,
  technician     TEXT    NOT NULL CHECK (length(technician) <= 120),
  certificate    TEXT    NOT NULL CHECK (length(certificate) <= 120),
  recovered_into TEXT,
  charged_from   TEXT,
  version        INTEGER NOT NULL CHECK (version >= 1),
  created_at     TEXT    NOT NULL,
  created_by     TEXT    NOT NULL,
  updated_at     TEXT    NOT NULL,
  updated_by     TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, log_id),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE, -- examples only
  FOREIGN KEY (workspace_id, recovered_into) REFERENCES cylinders (workspace_id, id),
  FOREIGN KEY (workspace_id, charged_from) REFERENCES cylinders (workspace_id, id)
) STRICT;

CREATE INDEX refrigerant_work_recovered ON refrigerant_work (workspace_id, recovered_into);
CREATE INDEX refrigerant_work_charged ON refrigerant_work (workspace_id, charged_from);
CREATE INDEX charge_log_by_date ON charge_log (workspace_id, date);

CREATE TRIGGER cylinders_are_kept BEFORE DELETE ON cylinders BEGIN SELECT RAISE(ABORT, 'a cylinder is retired, not deleted'); END;
CREATE TRIGGER cylinder_moves_are_kept BEFORE DELETE ON cylinder_moves BEGIN SELECT RAISE(ABORT, 'a move is kept'); END;
CREATE TRIGGER cylinder_moves_are_not_edited BEFORE UPDATE OF workspace_id, id, cylinder_id, kind, date, amount_g, note, recorded_at, recorded_by ON cylinder_moves
BEGIN SELECT RAISE(ABORT, 'a move is not edited'); END;
CREATE TRIGGER cylinder_moves_are_removed_once BEFORE UPDATE ON cylinder_moves
WHEN OLD.removed_at IS NOT NULL BEGIN SELECT RAISE(ABORT, 'a move is removed once'); END;
