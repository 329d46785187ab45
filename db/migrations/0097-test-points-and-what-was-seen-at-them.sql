-- Where a wire of the drawing can be probed, and what is to be seen there, as the import says it.
ALTER TABLE feed ADD COLUMN point TEXT NOT NULL DEFAULT '' CHECK (length(point) <= 40);
ALTER TABLE feed ADD COLUMN expects TEXT NOT NULL DEFAULT '' CHECK (length(expects) <= 120);

-- The same as it is written at the bench: for a design by its key, so that a new revision keeps it.
CREATE TABLE test_point (
  design_key TEXT NOT NULL CHECK (length(design_key) BETWEEN 1 AND 40),
  point TEXT NOT NULL CHECK (length(point) BETWEEN 1 AND 40),
  block TEXT NOT NULL,
  expects TEXT NOT NULL CHECK (length(expects) BETWEEN 1 AND 120),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  PRIMARY KEY (design_key, point)
) STRICT;

-- What somebody saw at a point of a unit while a fault was searched: it bears on the block as a check does.
CREATE TABLE observation (
  id TEXT PRIMARY KEY,
  unit_id TEXT NOT NULL REFERENCES unit (id),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  place TEXT NOT NULL CHECK (length(place) BETWEEN 1 AND 60),
  block TEXT NOT NULL,
  found TEXT NOT NULL CHECK (length(found) BETWEEN 1 AND 200),
  is_good INTEGER NOT NULL CHECK (is_good IN (0, 1)),
  is_powered INTEGER NOT NULL CHECK (is_powered IN (0, 1))
) STRICT;
CREATE INDEX observation_by_unit ON observation (unit_id, at);
