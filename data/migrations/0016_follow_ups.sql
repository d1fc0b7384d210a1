-- Follow-ups that are done with. What is due is worked out from the records; here stands what a shop has said of it, so that one that was
-- dismissed stays away and nothing else does.

CREATE TABLE follow_ups_closed (
  workspace_id TEXT    NOT NULL,
  vehicle_id   TEXT    NOT NULL,
  follow_up    TEXT    NOT NULL CHECK (length(follow_up) BETWEEN 1 AND 80), -- what it is about, with the day on which it was due
  outcome      TEXT    NOT NULL CHECK (outcome IN ('done', 'dismissed')),
  words        TEXT    NOT NULL CHECK (length(words) BETWEEN 1 AND 200), -- the result, or why it was dismissed
  closed_at    TEXT    NOT NULL,
  closed_by    TEXT    NOT NULL,
  PRIMARY KEY (workspace_id, vehicle_id, follow_up),
  FOREIGN KEY (workspace_id, vehicle_id) REFERENCES vehicles (workspace_id, id) ON DELETE CASCADE -- examples only
) STRICT;

CREATE INDEX follow_ups_closed_lately ON follow_ups_closed (workspace_id, closed_at);
