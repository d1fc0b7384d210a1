-- Keys that open a workspace. A key is 256 random bits and only its SHA-256 is kept: whoever reads this cannot use it.

CREATE TABLE access_keys (
  workspace_id TEXT NOT NULL REFERENCES workspaces (workspace_id),
  id           TEXT NOT NULL CHECK (length(id) BETWEEN 1 AND 64),
  purpose      TEXT NOT NULL CHECK (purpose IN ('link', 'api', 'feed')), -- exchanged for a session; bearer; calendar feed
  role         TEXT NOT NULL CHECK (role IN ('owner', 'editor', 'viewer')),
  label        TEXT NOT NULL CHECK (length(label) BETWEEN 1 AND 120), -- who or what has it
  key_hash     TEXT NOT NULL UNIQUE CHECK (length(key_hash) = 64),
  created_at   TEXT NOT NULL,
  created_by   TEXT NOT NULL,
  exchanged_at TEXT, -- a link opens one session, once
  last_used_at TEXT,
  revoked_at   TEXT,
  CHECK (purpose <> 'feed' OR role = 'viewer'),
  PRIMARY KEY (workspace_id, id)
) STRICT;

CREATE TABLE sessions (
  workspace_id TEXT NOT NULL,
  access_id    TEXT NOT NULL,
  token_hash   TEXT NOT NULL PRIMARY KEY CHECK (length(token_hash) = 64),
  created_at   TEXT NOT NULL,
  expires_at   TEXT NOT NULL,
  FOREIGN KEY (workspace_id, access_id) REFERENCES access_keys (workspace_id, id)
) STRICT;
