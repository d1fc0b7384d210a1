-- So that the fleet's table need not read every vehicle to say what it can be filtered by, and which are put away.

CREATE INDEX vehicles_by_group ON vehicles (workspace_id, fleet_group, depot, refrigerant) WHERE archived_at IS NULL;

CREATE INDEX vehicles_archived ON vehicles (workspace_id, id) WHERE archived_at IS NOT NULL;
