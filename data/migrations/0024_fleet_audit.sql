-- A year of the audit: first charges apart, what errs for a whole group, the days on which a limit was passed; and
-- years that are closed stay as they were.

ALTER TABLE fleet_audit ADD COLUMN first_charge_g REAL NOT NULL DEFAULT 0;
ALTER TABLE fleet_audit ADD COLUMN lost_per_ln_g REAL NOT NULL DEFAULT 0;
ALTER TABLE fleet_audit ADD COLUMN over_limit_on TEXT CHECK (date(over_limit_on) IS over_limit_on);
ALTER TABLE fleet_audit ADD COLUMN chronic_on TEXT CHECK (date(chronic_on) IS chronic_on);
ALTER TABLE fleet_cohorts ADD COLUMN mean_sd REAL NOT NULL DEFAULT 0.8;

CREATE TABLE fleet_closed_years (
  workspace_id  TEXT    NOT NULL REFERENCES workspaces (workspace_id),
  year          INTEGER NOT NULL CHECK (year BETWEEN 1990 AND 2200),
  number        INTEGER NOT NULL CHECK (number >= 1), -- a year may be closed anew; the earlier closing stays
  model_version TEXT    NOT NULL,
  gwp           TEXT    NOT NULL, -- the set of warming potentials that was reported
  vehicles      INTEGER NOT NULL, -- in use, with and without a record
  closed_at     TEXT    NOT NULL,
  closed_by     TEXT    NOT NULL,
  reopened_at   TEXT, -- closed by mistake: the snapshot stays
  reopened_by   TEXT,
  PRIMARY KEY (workspace_id, year, number)
) STRICT;

-- Each vehicle as it was reported. It does not refer to the vehicle: nothing that happens to that changes it.
CREATE TABLE fleet_closed_rows (
  workspace_id        TEXT    NOT NULL,
  year                INTEGER NOT NULL,
  number              INTEGER NOT NULL,
  vehicle_id          TEXT    NOT NULL,
  label               TEXT    NOT NULL,
  refrigerant         TEXT    NOT NULL,
  nameplate_g         REAL    NOT NULL,
  fleet_group         TEXT,
  depot               TEXT,
  added_g             REAL    NOT NULL,
  first_charge_g      REAL    NOT NULL,
  recovered_g         REAL    NOT NULL,
  lost_g              REAL    NOT NULL,
  lost_sd_g           REAL    NOT NULL,
  lost_per_ln_g       REAL    NOT NULL,
  span_years          REAL    NOT NULL,
  annualizing_percent REAL,
  rolling_percent     REAL,
  over_limit_on       TEXT,
  chronic_on          TEXT,
  mean_sd             REAL    NOT NULL,
  PRIMARY KEY (workspace_id, year, number, vehicle_id),
  FOREIGN KEY (workspace_id, year, number) REFERENCES fleet_closed_years (workspace_id, year, number) ON DELETE CASCADE
) STRICT;

-- Computed without these columns: worked out anew.
DELETE FROM fleet_details;
DELETE FROM fleet_audit;
DELETE FROM fleet_answers;
