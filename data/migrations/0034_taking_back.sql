-- While an import is taken back, the entries that it wrote and nobody has touched since may go. Everything else stays.

ALTER TABLE workspaces ADD COLUMN taking_back INTEGER NOT NULL DEFAULT 0 CHECK (taking_back IN (0, 1));

DROP TRIGGER IF EXISTS charge_log_keeps_its_lines;
CREATE TRIGGER charge_log_keeps_its_lines BEFORE DELETE ON charge_log
WHEN NOT EXISTS (SELECT 1 FROM vehicles WHERE workspace_id = OLD.workspace_id AND id = OLD.vehicle_id AND example = 1)
  AND NOT EXISTS (SELECT 1 FROM workspaces WHERE workspace_id = OLD.workspace_id AND taking_back = 1)
BEGIN SELECT RAISE(ABORT, 'only an example can be deleted'); END;
