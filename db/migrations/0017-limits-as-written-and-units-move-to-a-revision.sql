-- How a limit was written where not as a figure: "−5 %", "+100 ppm".
ALTER TABLE check_step ADD COLUMN lower_as TEXT;
ALTER TABLE check_step ADD COLUMN upper_as TEXT;

-- The revision that a unit is built and checked to now; null while that is the one its run was begun with.
ALTER TABLE unit ADD COLUMN design_id TEXT REFERENCES design (id);

-- A unit goes on by another revision. What that means for its readings is settled then and kept: a later revision of the
-- rules, or of the design, must not change what stood. `retakes` says of each check why its reading stands no longer.
CREATE TABLE unit_revision (
  id TEXT PRIMARY KEY,
  unit_id TEXT NOT NULL REFERENCES unit (id),
  seq INTEGER NOT NULL,
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  from_design_id TEXT NOT NULL REFERENCES design (id),
  to_design_id TEXT NOT NULL REFERENCES design (id),
  retakes TEXT NOT NULL CHECK (json_valid(retakes)),
  UNIQUE (unit_id, seq),
  CHECK (from_design_id <> to_design_id)
) STRICT;
