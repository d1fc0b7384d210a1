-- Ended sessions are removed at each sign-in: without this, by reading every session there is.
CREATE INDEX sessions_by_expiry ON sessions (expires_at);
