-- Repairs settled beforehand may be so for one year alone; the plan of a year with its work orders is kept.

ALTER TABLE fleet_locks ADD COLUMN year INTEGER CHECK (year BETWEEN 2000 AND 2200); -- NULL: in every year

CREATE TABLE fleet_plans (
  workspace_id TEXT    NOT NULL REFERENCES workspaces (workspace_id),
  year         INTEGER NOT NULL CHECK (year BETWEEN 2000 AND 2200),
  terms        TEXT    NOT NULL CHECK (json_valid(terms) AND json_type(terms) = 'object'), -- money, aim, shop, depots
  currency     TEXT    NOT NULL,
  version      INTEGER NOT NULL CHECK (version >= 1), -- counts every change of the plan and of its orders
  created_at   TEXT    NOT NULL,
  created_by   TEXT    NOT NULL,
  updated_at   TEXT    NOT NULL,
  updated_by   TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, year)
) STRICT;

CREATE TABLE fleet_orders (
  workspace_id TEXT    NOT NULL,
  id           TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  year         INTEGER NOT NULL,
  vehicle_id   TEXT    NOT NULL,
  option       TEXT    NOT NULL CHECK (option IN ('repair', 'dye-test', 'electronic-test')),
  price        REAL    NOT NULL CHECK (price >= 0), -- expected this year, main unit of the plan's currency
  month        TEXT    NOT NULL CHECK (date(month || '-01') IS month || '-01'),
  depot        TEXT,
  saves        REAL    NOT NULL, -- over the years kept, against topping off for ever
  avoids_kg    REAL    NOT NULL,
  held         INTEGER NOT NULL CHECK (held IN (0, 1)), -- stays when the rest is planned anew
  carried_from INTEGER, -- the year in whose plan it was first
  done_on      TEXT    CHECK (date(done_on) IS done_on),
  paid         REAL    CHECK (paid >= 0), -- NULL: not said
  done_by      TEXT,
  lifted_lock  INTEGER NOT NULL CHECK (lifted_lock IN (0, 1)), -- "always repair" ended with this order
  version      INTEGER NOT NULL CHECK (version >= 1),
  updated_at   TEXT    NOT NULL,
  updated_by   TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, id),
  UNIQUE (workspace_id, year, vehicle_id),
  CHECK ((done_on IS NULL) = (done_by IS NULL)),
  FOREIGN KEY (workspace_id, year) REFERENCES fleet_plans (workspace_id, year) ON DELETE CASCADE,
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE -- examples only
) STRICT;

CREATE INDEX fleet_orders_of_vehicle ON fleet_orders (workspace_id, vehicle_id);
