-- Every table carries workspace_id, and every key begins with it: an id means nothing outside its workspace.
-- Times are UTC instants as ISO 8601 text, dates are YYYY-MM-DD, amounts are grams, truths are 0 and 1.

CREATE TABLE workspaces (
  workspace_id     TEXT    NOT NULL PRIMARY KEY CHECK (length(workspace_id) BETWEEN 1 AND 64),
  name             TEXT    NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  mass_unit        TEXT    NOT NULL CHECK (mass_unit IN ('g', 'oz', 'lb-oz')),
  temperature_unit TEXT    NOT NULL CHECK (temperature_unit IN ('C', 'F')),
  pressure_unit    TEXT    NOT NULL CHECK (pressure_unit IN ('kPa-absolute', 'kPa-gauge', 'psi-gauge', 'bar-gauge')),
  currency         TEXT    NOT NULL CHECK (currency GLOB '[A-Z][A-Z][A-Z]'),
  place            TEXT    CHECK (length(place) BETWEEN 1 AND 64),   -- whose rules apply; NULL: not said
  climate          TEXT    CHECK (length(climate) BETWEEN 1 AND 64), -- a preset; NULL: not said
  monthly_mean_c   TEXT    CHECK (json_valid(monthly_mean_c) AND json_array_length(monthly_mean_c) = 12), -- goes before climate
  time_zone        TEXT    NOT NULL CHECK (length(time_zone) BETWEEN 1 AND 64), -- where "today" is
  plan             TEXT    NOT NULL CHECK (json_valid(plan) AND json_type(plan) = 'object'),
  prices           TEXT    NOT NULL CHECK (json_valid(prices) AND json_type(prices) = 'object'),
  assumptions      TEXT    NOT NULL CHECK (json_valid(assumptions) AND json_type(assumptions) = 'object'),
  version          INTEGER NOT NULL CHECK (version >= 1),
  created_at       TEXT    NOT NULL,
  updated_at       TEXT    NOT NULL,
  updated_by       TEXT    NOT NULL
) STRICT;

CREATE TABLE vehicles (
  workspace_id        TEXT    NOT NULL REFERENCES workspaces (workspace_id),
  id                  TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  label               TEXT    NOT NULL CHECK (length(label) BETWEEN 1 AND 120),
  refrigerant         TEXT    NOT NULL CHECK (refrigerant IN ('R-134a', 'R-1234yf', 'R-12')),
  nameplate_g         REAL    NOT NULL CHECK (nameplate_g BETWEEN 100 AND 20000),
  system_volume_ml    REAL    CHECK (system_volume_ml > 0),
  electric_compressor INTEGER NOT NULL CHECK (electric_compressor IN (0, 1)), -- high voltage
  climate             TEXT    CHECK (length(climate) BETWEEN 1 AND 64),       -- NULL: that of the workspace
  monthly_mean_c      TEXT    CHECK (json_valid(monthly_mean_c) AND json_array_length(monthly_mean_c) = 12),
  fleet_group         TEXT    CHECK (length(fleet_group) BETWEEN 1 AND 120),  -- vehicles that resemble each other
  depot               TEXT    CHECK (length(depot) BETWEEN 1 AND 120),
  plan                TEXT    NOT NULL CHECK (json_valid(plan) AND json_type(plan) = 'object'), -- these three: what differs
  prices              TEXT    NOT NULL CHECK (json_valid(prices) AND json_type(prices) = 'object'), --   from the workspace
  assumptions         TEXT    NOT NULL CHECK (json_valid(assumptions) AND json_type(assumptions) = 'object'),
  example             INTEGER NOT NULL CHECK (example IN (0, 1)), -- invented, and can be taken away without a trace
  archived_at         TEXT,
  version             INTEGER NOT NULL CHECK (version >= 1),
  created_at          TEXT    NOT NULL,
  created_by          TEXT    NOT NULL,
  updated_at          TEXT    NOT NULL,
  updated_by          TEXT    NOT NULL,
  sort_key            TEXT    NOT NULL, -- the label as lists sort it
  search_text         TEXT    NOT NULL, -- label, group and depot as search compares them
  PRIMARY KEY (workspace_id, id)
) STRICT;

CREATE INDEX vehicles_in_order ON vehicles (workspace_id, sort_key, id); -- the list of vehicles, page by page

-- Three ledgers of one shape. A line is never edited: a correction, a removal or an undo is a new line that names the
-- version it replaces. What holds now is the line that nothing replaces, unless it is a removal.

CREATE TABLE charge_log (
  workspace_id TEXT    NOT NULL,
  id           TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  version      INTEGER NOT NULL CHECK (version >= 1),
  replaces     INTEGER CHECK (replaces IS nullif(version - 1, 0)),
  change       TEXT    NOT NULL CHECK (change IN ('added', 'corrected', 'removed', 'restored')),
  vehicle_id   TEXT    NOT NULL,
  number       INTEGER NOT NULL CHECK (number >= 1), -- counts up in a vehicle: the order of entries of one date
  date         TEXT    NOT NULL CHECK (date(date) IS date),
  cooling      TEXT    CHECK (cooling IN ('ok', 'weak', 'short-cycling', 'empty')),
  recovered_g  REAL    CHECK (recovered_g BETWEEN 0 AND 60000),
  added_g      REAL    CHECK (added_g BETWEEN 0 AND 60000),
  added_by     TEXT    CHECK (added_by IN ('scale', 'cans')),
  finish       TEXT    CHECK (finish IN ('weighed', 'gauges', 'low-side', 'unknown')),
  repair       TEXT    CHECK (repair IN ('service-port', 'joint', 'hose', 'condenser', 'evaporator', 'compressor')),
  note         TEXT    CHECK (length(note) BETWEEN 1 AND 2000),
  recorded_at  TEXT    NOT NULL,
  recorded_by  TEXT    NOT NULL,
  search_text  TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, id, version), -- two corrections of one version: the second is refused
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id),
  FOREIGN KEY (workspace_id, id, replaces) REFERENCES charge_log (workspace_id, id, version)
) STRICT;

CREATE INDEX charge_log_of_vehicle ON charge_log (workspace_id, vehicle_id, number);

CREATE TABLE findings (
  workspace_id TEXT    NOT NULL,
  id           TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  version      INTEGER NOT NULL CHECK (version >= 1),
  replaces     INTEGER CHECK (replaces IS nullif(version - 1, 0)),
  change       TEXT    NOT NULL CHECK (change IN ('added', 'corrected', 'removed', 'restored')),
  vehicle_id   TEXT    NOT NULL,
  number       INTEGER NOT NULL CHECK (number >= 1),
  date         TEXT    NOT NULL CHECK (date(date) IS date),
  test         TEXT    NOT NULL CHECK (test IN ('dye', 'electronic', 'visual')),
  location     TEXT    NOT NULL CHECK (location IN ('service-port', 'joint', 'hose', 'condenser', 'evaporator', 'compressor', 'anywhere')),
  result       TEXT    NOT NULL CHECK (result IN ('leak', 'clean')),
  note         TEXT    CHECK (length(note) BETWEEN 1 AND 2000),
  recorded_at  TEXT    NOT NULL,
  recorded_by  TEXT    NOT NULL,
  search_text  TEXT    NOT NULL,
  CHECK (result = 'clean' OR location <> 'anywhere'),
  PRIMARY KEY (workspace_id, id, version),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id),
  FOREIGN KEY (workspace_id, id, replaces) REFERENCES findings (workspace_id, id, version)
) STRICT;

CREATE INDEX findings_of_vehicle ON findings (workspace_id, vehicle_id, number);

CREATE TABLE notes (
  workspace_id TEXT    NOT NULL,
  id           TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  version      INTEGER NOT NULL CHECK (version >= 1),
  replaces     INTEGER CHECK (replaces IS nullif(version - 1, 0)),
  change       TEXT    NOT NULL CHECK (change IN ('added', 'corrected', 'removed', 'restored')),
  vehicle_id   TEXT    NOT NULL,
  number       INTEGER NOT NULL CHECK (number >= 1),
  body         TEXT    NOT NULL CHECK (length(body) BETWEEN 1 AND 20000),
  recorded_at  TEXT    NOT NULL,
  recorded_by  TEXT    NOT NULL,
  search_text  TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, id, version),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id),
  FOREIGN KEY (workspace_id, id, replaces) REFERENCES notes (workspace_id, id, version)
) STRICT;

CREATE INDEX notes_of_vehicle ON notes (workspace_id, vehicle_id, number);

CREATE TRIGGER charge_log_is_not_edited BEFORE UPDATE ON charge_log BEGIN SELECT RAISE(ABORT, 'a ledger is not edited'); END;
CREATE TRIGGER findings_is_not_edited BEFORE UPDATE ON findings BEGIN SELECT RAISE(ABORT, 'a ledger is not edited'); END;
CREATE TRIGGER notes_is_not_edited BEFORE UPDATE ON notes BEGIN SELECT RAISE(ABORT, 'a ledger is not edited'); END;

CREATE TRIGGER charge_log_keeps_its_lines BEFORE DELETE ON charge_log
WHEN NOT EXISTS (SELECT 1 FROM vehicles WHERE workspace_id = OLD.workspace_id AND id = OLD.vehicle_id AND example = 1)
BEGIN SELECT RAISE(ABORT, 'only an example can be deleted'); END;
CREATE TRIGGER findings_keeps_its_lines BEFORE DELETE ON findings
WHEN NOT EXISTS (SELECT 1 FROM vehicles WHERE workspace_id = OLD.workspace_id AND id = OLD.vehicle_id AND example = 1)
BEGIN SELECT RAISE(ABORT, 'only an example can be deleted'); END;
CREATE TRIGGER notes_keeps_its_lines BEFORE DELETE ON notes
WHEN NOT EXISTS (SELECT 1 FROM vehicles WHERE workspace_id = OLD.workspace_id AND id = OLD.vehicle_id AND example = 1)
BEGIN SELECT RAISE(ABORT, 'only an example can be deleted'); END;

-- One row for each form that was sent in: the same press of a button, arriving twice, is stored once.
CREATE TABLE submissions (
  workspace_id    TEXT    NOT NULL REFERENCES workspaces (workspace_id),
  submit_key      TEXT    NOT NULL CHECK (length(submit_key) BETWEEN 1 AND 64), -- drawn when the form was made
  content_hash    TEXT    NOT NULL, -- the same key with other content is no repeat
  subject_id      TEXT    NOT NULL, -- what was stored
  subject_version INTEGER NOT NULL,
  submitted_at    TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, submit_key)
) STRICT;

-- Always empty. A change that rests on a condition inserts a 0 here when the condition does not hold, which undoes it all.
CREATE TABLE guards (
  workspace_id TEXT    NOT NULL,
  holds        INTEGER NOT NULL CONSTRAINT guard CHECK (holds = 1)
) STRICT;

-- Answers that were computed before. Everything here can be deleted at any time.
CREATE TABLE assessments (
  workspace_id  TEXT NOT NULL,
  vehicle_id    TEXT NOT NULL,
  input_hash    TEXT NOT NULL CHECK (length(input_hash) = 64),
  model_version TEXT NOT NULL,
  answer        TEXT NOT NULL CHECK (json_valid(answer)),
  made_at       TEXT NOT NULL,
  PRIMARY KEY (workspace_id, vehicle_id, input_hash, model_version),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE
) STRICT;
