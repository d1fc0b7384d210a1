-- What was read at a vehicle's gauges and vents: a ledger like the three of 0001. Pressures are kPa absolute.

CREATE TABLE readings (
  workspace_id     TEXT    NOT NULL,
  id               TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  version          INTEGER NOT NULL CHECK (version >= 1),
  replaces         INTEGER CHECK (replaces IS nullif(version - 1, 0)),
  change           TEXT    NOT NULL CHECK (change IN ('added', 'corrected', 'removed', 'restored')),
  vehicle_id       TEXT    NOT NULL,
  number           INTEGER NOT NULL CHECK (number >= 1),
  date             TEXT    NOT NULL CHECK (date(date) IS date),
  ambient_c        REAL    NOT NULL CHECK (ambient_c BETWEEN -30 AND 50), -- nothing can be judged without it
  humidity_percent REAL    CHECK (humidity_percent BETWEEN 0 AND 100),
  altitude_m       REAL    CHECK (altitude_m BETWEEN -500 AND 5000), -- what the gauges took for zero
  static_kpa       REAL    CHECK (static_kpa BETWEEN 0 AND 6000),
  low_kpa          REAL    CHECK (low_kpa BETWEEN 0 AND 6000),
  high_kpa         REAL    CHECK (high_kpa BETWEEN 0 AND 6000),
  engine_rpm       REAL    CHECK (engine_rpm BETWEEN 0 AND 10000),
  vent_c           REAL    CHECK (vent_c BETWEEN -30 AND 80),
  clutch           TEXT    CHECK (clutch IN ('steady', 'cycles-slowly', 'cycles-fast', 'off')),
  fan              TEXT    CHECK (fan IN ('runs', 'stopped')),
  condenser        TEXT    CHECK (condenser IN ('clean', 'dirty')),
  more_air         TEXT    CHECK (more_air IN ('drops', 'stays')),
  note             TEXT    CHECK (length(note) BETWEEN 1 AND 2000),
  recorded_at      TEXT    NOT NULL,
  recorded_by      TEXT    NOT NULL,
  search_text      TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, id, version),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id),
  FOREIGN KEY (workspace_id, id, replaces) REFERENCES readings (workspace_id, id, version)
) STRICT;

CREATE INDEX readings_of_vehicle ON readings (workspace_id, vehicle_id, number);

CREATE TRIGGER readings_is_not_edited BEFORE UPDATE ON readings BEGIN SELECT RAISE(ABORT, 'a ledger is not edited'); END;
CREATE TRIGGER readings_keeps_its_lines BEFORE DELETE ON readings
WHEN NOT EXISTS (SELECT 1 FROM vehicles WHERE workspace_id = OLD.workspace_id AND id = OLD.vehicle_id AND example = 1)
BEGIN SELECT RAISE(ABORT, 'only an example can be deleted'); END;

-- How it cooled when all was done, and what a top-off from cans leaves to be brought back.
ALTER TABLE charge_log ADD COLUMN cooling_after TEXT CHECK (cooling_after IN ('ok', 'weak', 'short-cycling', 'empty'));
ALTER TABLE charge_log ADD COLUMN cans_opened INTEGER CHECK (cans_opened BETWEEN 0 AND 1000);
ALTER TABLE charge_log ADD COLUMN deposit REAL CHECK (deposit BETWEEN 0 AND 1000000); -- paid in all, in the workspace's currency
ALTER TABLE charge_log ADD COLUMN deposit_return_by TEXT CHECK (date(deposit_return_by) IS deposit_return_by); -- the last day
