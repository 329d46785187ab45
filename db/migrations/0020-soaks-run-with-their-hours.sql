-- A soak that runs, or ran: when it was begun, each cold start, and when it ended and why. The reading that closes it is
-- a reading like any other; this says what it rests on.
CREATE TABLE soak_run (
  id TEXT PRIMARY KEY,
  unit_id TEXT NOT NULL REFERENCES unit (id),
  check_key TEXT NOT NULL,
  started_at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  cold_starts TEXT NOT NULL CHECK (json_valid(cold_starts)),
  ended_at INTEGER,
  ended_why TEXT,
  CHECK ((ended_at IS NULL) = (ended_why IS NULL)),
  CHECK (ended_at IS NULL OR ended_at >= started_at)
) STRICT;
CREATE UNIQUE INDEX soak_one_runs_on_a_unit ON soak_run (unit_id) WHERE ended_at IS NULL;
