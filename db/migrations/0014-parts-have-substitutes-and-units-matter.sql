-- What may be fitted in place of the part a line names; the lower rank is preferred.
CREATE TABLE line_substitute (
  line_id TEXT NOT NULL REFERENCES parts_line (id) ON DELETE CASCADE,
  part_id TEXT NOT NULL REFERENCES part (id),
  rank INTEGER NOT NULL CHECK (rank > 0),
  -- Why it is accepted, where that was said; empty when it came with the list.
  reason TEXT NOT NULL DEFAULT '' CHECK (length(reason) <= 500),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  PRIMARY KEY (line_id, part_id)
) STRICT;
CREATE INDEX line_substitute_by_part ON line_substitute (part_id);

-- How much it matters that a unit is built where not all can be. Units that are not here matter as the others (2).
CREATE TABLE unit_importance (
  unit_id TEXT PRIMARY KEY REFERENCES unit (id) ON DELETE CASCADE,
  importance INTEGER NOT NULL CHECK (importance BETWEEN 1 AND 3)
) STRICT;

-- The civil day by which lots must be ready, and how many days at the bench a unit takes once its parts are there.
CREATE TABLE build_ready (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  ready_on TEXT CHECK (ready_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  bench_days INTEGER NOT NULL CHECK (bench_days BETWEEN 0 AND 365)
) STRICT;

-- The civil day on which a promised gift is expected.
CREATE TABLE gift_expected (
  gift_id TEXT PRIMARY KEY REFERENCES gift (id) ON DELETE CASCADE,
  expected_on TEXT NOT NULL CHECK (expected_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]')
) STRICT;
