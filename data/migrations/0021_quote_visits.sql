-- Since when each person of a shop asks what is new among the quotes: since the visit before the one that goes on.
CREATE TABLE quote_visits (
  workspace_id TEXT NOT NULL REFERENCES workspaces (workspace_id),
  person       TEXT NOT NULL, -- an access key, or the one who sits at the machine
  since        TEXT NOT NULL,
  visited_at   TEXT NOT NULL,
  PRIMARY KEY (workspace_id, person)
) STRICT;
