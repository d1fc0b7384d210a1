-- What the fleet's pictures draw and its table sorts by, out of the whole answers into the short rows.
ALTER TABLE fleet_answers ADD COLUMN leak_share REAL NOT NULL DEFAULT 0; -- of the charge, a year
ALTER TABLE fleet_answers ADD COLUMN low_now INTEGER NOT NULL DEFAULT 0 CHECK (low_now IN (0, 1));
ALTER TABLE fleet_answers ADD COLUMN no_entries INTEGER NOT NULL DEFAULT 0 CHECK (no_entries IN (0, 1));

UPDATE fleet_answers SET (leak_share, low_now, no_entries) = (
  SELECT answer ->> '$.leak_fraction.median', answer ->> '$.low_now', answer ->> '$.no_entries' FROM fleet_details AS d
  WHERE d.workspace_id = fleet_answers.workspace_id AND d.vehicle_id = fleet_answers.vehicle_id);
