-- Fleet files on their way in, and what the fleet pages have computed. All but import_keys can be deleted at any time.

-- The name under which a file first spoke of a vehicle: it finds the vehicle again after it was given another label.
CREATE TABLE import_keys (
  workspace_id TEXT NOT NULL,
  source_key   TEXT NOT NULL,
  vehicle_id   TEXT NOT NULL,
  PRIMARY KEY (workspace_id, source_key),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE
) STRICT;

CREATE INDEX import_keys_of_vehicle ON import_keys (workspace_id, vehicle_id);

-- A file that was sent in and waits for answers, or for the word to take its good rows.
CREATE TABLE imports (
  workspace_id TEXT NOT NULL REFERENCES workspaces (workspace_id),
  id           TEXT NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  files        TEXT NOT NULL CHECK (json_valid(files) AND json_type(files) = 'array'), -- names, and what a look through them showed
  answers      TEXT NOT NULL CHECK (json_valid(answers) AND json_type(answers) = 'array'), -- by file
  report       TEXT CHECK (json_valid(report)), -- what became of it; NULL: it waits
  created_at   TEXT NOT NULL,
  created_by   TEXT NOT NULL,
  PRIMARY KEY (workspace_id, id)
) STRICT;

CREATE TABLE import_parts (
  workspace_id TEXT    NOT NULL,
  import_id    TEXT    NOT NULL,
  file         INTEGER NOT NULL, -- 0 or 1
  number       INTEGER NOT NULL, -- the parts of a file in order
  text         TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, import_id, file, number),
  FOREIGN KEY (workspace_id, import_id) REFERENCES imports (workspace_id, id) ON DELETE CASCADE
) STRICT;

-- What a vehicle's own log says of its leak, on the grid of the model: what its group is fitted from.
CREATE TABLE fleet_logs (
  workspace_id  TEXT NOT NULL,
  vehicle_id    TEXT NOT NULL,
  stamp         TEXT NOT NULL, -- the state of the records that it comes from
  as_of         TEXT NOT NULL CHECK (date(as_of) IS as_of),
  model_version TEXT NOT NULL,
  ln_likelihood TEXT CHECK (json_valid(ln_likelihood)), -- NULL: a repair is in the log, so it takes no part
  PRIMARY KEY (workspace_id, vehicle_id),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE
) STRICT;

CREATE TABLE fleet_cohorts (
  workspace_id TEXT    NOT NULL REFERENCES workspaces (workspace_id),
  fleet_group  TEXT    NOT NULL,
  ln_x_mean    REAL    NOT NULL, -- as fitted
  ln_x_sd      REAL    NOT NULL,
  used_mean    REAL    NOT NULL, -- as the answers use it, in steps
  used_sd      REAL    NOT NULL,
  vehicles     INTEGER NOT NULL,
  PRIMARY KEY (workspace_id, fleet_group)
) STRICT;

-- One row a vehicle for the fleet's table: what it sorts, filters and adds up. Short rows, because it reads them all.
CREATE TABLE fleet_answers (
  workspace_id    TEXT NOT NULL,
  vehicle_id      TEXT NOT NULL,
  stamp           TEXT NOT NULL,
  input_hash      TEXT NOT NULL CHECK (length(input_hash) = 64),
  model_version   TEXT NOT NULL,
  used_mean       REAL NOT NULL, -- the prior that it was computed under
  used_sd         REAL NOT NULL,
  as_of           TEXT NOT NULL CHECK (date(as_of) IS as_of),
  leak_g_per_year REAL NOT NULL,
  charge_share    REAL NOT NULL,
  next_low        TEXT, -- NULL: not within 20 years
  verdict         TEXT, -- an option, check-first, or NULL
  sure            REAL, -- chance that the answer turns out cheapest; NULL where that says nothing
  cost_as_is      REAL NOT NULL, -- money a year, topping off
  cost_best       REAL NOT NULL, -- money a year, with the answer
  release_as_is_g REAL NOT NULL, -- a year
  release_best_g  REAL NOT NULL,
  co2e_as_is_kg   REAL NOT NULL,
  co2e_best_kg    REAL NOT NULL,
  own_share       REAL NOT NULL,
  PRIMARY KEY (workspace_id, vehicle_id),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE
) STRICT;

-- The whole answer, for the rows that are shown.
CREATE TABLE fleet_details (
  workspace_id TEXT NOT NULL,
  vehicle_id   TEXT NOT NULL,
  answer       TEXT NOT NULL CHECK (json_valid(answer)),
  PRIMARY KEY (workspace_id, vehicle_id),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES fleet_answers (workspace_id, vehicle_id) ON DELETE CASCADE
) STRICT;

CREATE TABLE fleet_audit (
  workspace_id        TEXT    NOT NULL,
  vehicle_id          TEXT    NOT NULL,
  year                INTEGER NOT NULL,
  added_g             REAL    NOT NULL,
  recovered_g         REAL    NOT NULL,
  lost_g              REAL    NOT NULL,
  lost_sd_g           REAL    NOT NULL,
  span_years          REAL    NOT NULL,
  annualizing_percent REAL,
  rolling_percent     REAL,
  PRIMARY KEY (workspace_id, vehicle_id, year),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES fleet_answers (workspace_id, vehicle_id) ON DELETE CASCADE
) STRICT;

-- One reckoning of a workspace's fleet at a time, in steps: logs, then the groups, then answers.
CREATE TABLE fleet_runs (
  workspace_id TEXT    NOT NULL PRIMARY KEY REFERENCES workspaces (workspace_id),
  id           TEXT    NOT NULL,
  state        TEXT    NOT NULL CHECK (state IN ('logs', 'cohorts', 'answers', 'done', 'cancelled')),
  as_of        TEXT    NOT NULL CHECK (date(as_of) IS as_of),
  fresh_from   TEXT    NOT NULL CHECK (date(fresh_from) IS fresh_from), -- answers of this day and later still hold
  logs         INTEGER NOT NULL, -- how many there were to do
  answers      INTEGER NOT NULL,
  started_at   TEXT    NOT NULL,
  ended_at     TEXT
) STRICT;

-- What of the run is still to do: a row goes in the same change that stores its result, so a stop loses nothing.
CREATE TABLE fleet_work (
  workspace_id TEXT NOT NULL,
  vehicle_id   TEXT NOT NULL,
  step         TEXT NOT NULL CHECK (step IN ('logs', 'answers')),
  PRIMARY KEY (workspace_id, step, vehicle_id),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE
) STRICT;

-- Choices that a person settled before the budget is spent.
CREATE TABLE fleet_locks (
  workspace_id TEXT NOT NULL,
  vehicle_id   TEXT NOT NULL,
  repair       TEXT NOT NULL CHECK (repair IN ('must', 'must-not')),
  PRIMARY KEY (workspace_id, vehicle_id),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE
) STRICT;
