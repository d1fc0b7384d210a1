-- The day before which a vehicle that is topped off must not be low again; and what other programs were told of each
-- vehicle's answer last, so that a change is told once.

ALTER TABLE fleet_answers ADD COLUMN watch_date TEXT CHECK (date(watch_date) IS watch_date);

CREATE TABLE fleet_told (
  workspace_id TEXT NOT NULL,
  vehicle_id   TEXT NOT NULL,
  verdict      TEXT, -- an option, check-first, or NULL
  watch_month  TEXT, -- YYYY-MM
  changed_at   TEXT NOT NULL,
  PRIMARY KEY (workspace_id, vehicle_id),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE
) STRICT;

-- Computed without that day: worked out anew.
DELETE FROM fleet_details;
DELETE FROM fleet_audit;
DELETE FROM fleet_answers;
