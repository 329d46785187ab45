-- What it would cost to buy a part again, or the pieces of one batch: so much for so many. What was said last holds.
CREATE TABLE replacement_price (
  id TEXT PRIMARY KEY,
  part_id TEXT REFERENCES part (id),
  batch_id TEXT REFERENCES batch (id),
  -- Minor units of the campaign's currency for so many pieces; NULL: the price was taken back.
  minor INTEGER CHECK (minor BETWEEN 0 AND 100000000000),
  pieces INTEGER NOT NULL CHECK (pieces BETWEEN 1 AND 1000000),
  source TEXT NOT NULL CHECK (length(source) <= 120),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  CHECK ((part_id IS NULL) <> (batch_id IS NULL))
) STRICT;

-- How hours at the bench are counted, and how many of them a week has. What was said last holds.
CREATE TABLE bench_week (
  id TEXT PRIMARY KEY,
  -- After so many minutes without a note the work was left.
  pause_minutes INTEGER NOT NULL CHECK (pause_minutes BETWEEN 5 AND 240),
  -- So long before the first note the work was begun.
  lead_minutes INTEGER NOT NULL CHECK (lead_minutes BETWEEN 0 AND 60 AND lead_minutes <= pause_minutes),
  -- NULL: nobody has said.
  weekly_minutes INTEGER CHECK (weekly_minutes BETWEEN 1 AND 60480),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id)
) STRICT;

-- Minutes that were worked without a note, or noted without work. Never edited: another one puts it right.
CREATE TABLE bench_time_correction (
  id TEXT PRIMARY KEY,
  unit_id TEXT NOT NULL REFERENCES unit (id),
  minutes INTEGER NOT NULL CHECK (minutes <> 0 AND minutes BETWEEN -60000 AND 60000),
  reason TEXT NOT NULL CHECK (length(reason) BETWEEN 1 AND 300),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX bench_time_correction_by_unit ON bench_time_correction (unit_id, at);

-- What of it everybody may read beside a machine's record; no row: nothing.
CREATE TABLE spent_shown (
  unit_id TEXT PRIMARY KEY REFERENCES unit (id),
  hours INTEGER NOT NULL CHECK (hours IN (0, 1)),
  parts INTEGER NOT NULL CHECK (parts IN (0, 1)),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id)
) STRICT;
