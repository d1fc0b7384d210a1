-- Where a workspace tells another program what has happened, and what it has told. A message stays here until it has arrived.

CREATE TABLE webhooks (
  workspace_id TEXT    NOT NULL PRIMARY KEY REFERENCES workspaces (workspace_id),
  url          TEXT    NOT NULL CHECK (length(url) BETWEEN 1 AND 500),
  secret       TEXT    NOT NULL CHECK (length(secret) BETWEEN 32 AND 100), -- signs; whoever receives has the same, so a hash would not do
  version      INTEGER NOT NULL CHECK (version >= 1),
  updated_at   TEXT    NOT NULL,
  updated_by   TEXT    NOT NULL
) STRICT;

-- The body holds no name, address, plate or VIN: whoever receives it asks for the record, which can be erased.
CREATE TABLE webhook_messages (
  workspace_id TEXT    NOT NULL REFERENCES workspaces (workspace_id),
  id           TEXT    NOT NULL CHECK (length(id) BETWEEN 1 AND 120), -- the same event has the same, so that it is told once
  event        TEXT    NOT NULL CHECK (length(event) BETWEEN 1 AND 60),
  body         TEXT    NOT NULL CHECK (json_valid(body)),
  state        TEXT    NOT NULL CHECK (state IN ('waiting', 'delivered', 'failed')),
  attempts     INTEGER NOT NULL CHECK (attempts >= 0),
  due_at       TEXT, -- the next attempt
  tried_at     TEXT,
  outcome      TEXT, -- of the last attempt: a status of HTTP, or why there was none
  created_at   TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, id),
  CHECK ((state = 'waiting') = (due_at IS NOT NULL))
) STRICT;

CREATE INDEX webhook_messages_due ON webhook_messages (due_at) WHERE due_at IS NOT NULL;
CREATE INDEX webhook_messages_lately ON webhook_messages (workspace_id, created_at);
