-- What a fleet says once for all its vehicles, for a group or for a depot: prices, who tops off, years kept.
CREATE TABLE fleet_terms (
  workspace_id TEXT    NOT NULL REFERENCES workspaces (workspace_id),
  scope        TEXT    NOT NULL CHECK (scope IN ('fleet', 'group', 'depot')),
  name         TEXT    NOT NULL, -- of the group or depot; empty for the fleet
  terms        TEXT    NOT NULL CHECK (json_valid(terms) AND json_type(terms) = 'object'),
  version      INTEGER NOT NULL,
  updated_at   TEXT    NOT NULL,
  updated_by   TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, scope, name)
) STRICT;

-- Between which days every charge of a vehicle is in its log, but for a chance: then silence says that it was not low.
CREATE TABLE fleet_logged (
  workspace_id TEXT NOT NULL,
  vehicle_id   TEXT NOT NULL,
  from_date    TEXT CHECK (date(from_date) IS from_date), -- NULL: from the first entry
  until_date   TEXT NOT NULL CHECK (date(until_date) IS until_date),
  missed       REAL NOT NULL CHECK (missed BETWEEN 0 AND 0.5),
  PRIMARY KEY (workspace_id, vehicle_id),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE
) STRICT;

-- Computed against topping off that ended in a repair: worked out anew.
DELETE FROM fleet_details;
DELETE FROM fleet_audit;
DELETE FROM fleet_answers;
