-- Each past charge predicted again from what was on record before it, beside what came. Computed: it can be deleted at any
-- time, and is no part of an export.

-- A vehicle whose charges were predicted again, and the state of the records that this rests on.
CREATE TABLE predicted_vehicles (
  workspace_id  TEXT NOT NULL,
  vehicle_id    TEXT NOT NULL,
  stamp         TEXT NOT NULL,
  input_hash    TEXT NOT NULL CHECK (length(input_hash) = 64),
  model_version TEXT NOT NULL,
  as_of         TEXT NOT NULL CHECK (date(as_of) IS as_of), -- known up to this day
  PRIMARY KEY (workspace_id, vehicle_id),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE
) STRICT;

CREATE TABLE predictions (
  workspace_id TEXT NOT NULL,
  vehicle_id   TEXT NOT NULL,
  from_date    TEXT NOT NULL CHECK (date(from_date) IS from_date), -- of the charge
  until_date   TEXT NOT NULL CHECK (date(until_date) IS until_date), -- found low, or known so far
  ended        TEXT NOT NULL CHECK (ended IN ('seen', 'charged', 'not-low', 'repaired', 'open')),
  low_on       TEXT CHECK (date(low_on) IS low_on), -- about when it became low
  p05          TEXT, -- the likely range as it was said, and its middle; NULL: not within 20 years
  p50          TEXT,
  p95          TEXT,
  chance       REAL NOT NULL, -- as it was said, that it is low by then
  by_rule      TEXT, -- as long as last time
  PRIMARY KEY (workspace_id, vehicle_id, from_date),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES predicted_vehicles (workspace_id, vehicle_id) ON DELETE CASCADE
) STRICT;

-- One run over a workspace's vehicles at a time.
CREATE TABLE prediction_runs (
  workspace_id TEXT    NOT NULL PRIMARY KEY REFERENCES workspaces (workspace_id),
  id           TEXT    NOT NULL,
  as_of        TEXT    NOT NULL CHECK (date(as_of) IS as_of),
  vehicles     INTEGER NOT NULL, -- how many there were to do
  ended_at     TEXT -- NULL: under way
) STRICT;

-- What of the run is still to do: a row goes in the same change that stores its result.
CREATE TABLE prediction_work (
  workspace_id TEXT NOT NULL,
  vehicle_id   TEXT NOT NULL,
  PRIMARY KEY (workspace_id, vehicle_id),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE
) STRICT;
