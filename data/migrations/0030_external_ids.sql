-- What another program calls a vehicle or an event, and what was said to its calls, so that a call that comes twice
-- changes nothing.

CREATE TABLE external_ids (
  workspace_id TEXT NOT NULL,
  source       TEXT NOT NULL CHECK (length(source) BETWEEN 1 AND 60), -- what the program calls itself
  kind         TEXT NOT NULL CHECK (kind IN ('vehicle', 'event')),
  external_id  TEXT NOT NULL CHECK (length(external_id) BETWEEN 1 AND 120),
  subject_id   TEXT NOT NULL, -- the vehicle, or the entry of its charge log
  vehicle_id   TEXT NOT NULL,
  sent_hash    TEXT NOT NULL CHECK (length(sent_hash) = 64), -- of what was sent last: the same again is no news
  PRIMARY KEY (workspace_id, source, kind, external_id),
  UNIQUE (workspace_id, kind, subject_id, source),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE
) STRICT;

CREATE INDEX external_ids_of_vehicle ON external_ids (workspace_id, vehicle_id);

CREATE TABLE bulk_calls (
  workspace_id TEXT NOT NULL REFERENCES workspaces (workspace_id),
  call_key     TEXT NOT NULL CHECK (length(call_key) BETWEEN 1 AND 64),
  content_hash TEXT NOT NULL CHECK (length(content_hash) = 64),
  answer       TEXT NOT NULL CHECK (json_valid(answer)),
  made_at      TEXT NOT NULL,
  PRIMARY KEY (workspace_id, call_key)
) STRICT;
