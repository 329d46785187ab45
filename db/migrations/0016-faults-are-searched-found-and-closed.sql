-- A fault of a unit, from its symptom to its cause. A unit is searched for one fault at a time; the next opens when this is closed.
-- `seen` keeps what every check had said when it was mended: {"B21": true} where B21 failed.
CREATE TABLE fault (
  id TEXT PRIMARY KEY,
  unit_id TEXT NOT NULL REFERENCES unit (id),
  check_key TEXT,
  symptom TEXT NOT NULL CHECK (length(symptom) > 0),
  opened_at INTEGER NOT NULL,
  opened_by_person_id TEXT NOT NULL REFERENCES person (id),
  closed_at INTEGER CHECK (closed_at >= opened_at),
  closed_by_person_id TEXT REFERENCES person (id),
  cause TEXT CHECK (cause IN ('part', 'joint', 'setting', 'program', 'none')),
  block TEXT,
  designator TEXT,
  changed TEXT,
  minutes INTEGER CHECK (minutes BETWEEN 0 AND 100000),
  seen TEXT NOT NULL CHECK (json_valid(seen)),
  CHECK ((closed_at IS NULL) = (cause IS NULL)),
  CHECK ((closed_at IS NULL) = (minutes IS NULL)),
  CHECK ((closed_at IS NULL) = (changed IS NULL)),
  CHECK ((closed_at IS NULL) = (closed_by_person_id IS NULL)),
  CHECK (cause IS NULL OR (cause = 'none') = (block IS NULL))
) STRICT;
CREATE UNIQUE INDEX fault_one_open_at_a_unit ON fault (unit_id) WHERE closed_at IS NULL;
CREATE INDEX fault_by_unit ON fault (unit_id, opened_at);

-- The chance that a check fails if a block is the faulty one, where somebody knows better than the usual.
CREATE TABLE set_catch (
  design_id TEXT NOT NULL REFERENCES design (id),
  check_key TEXT NOT NULL,
  block TEXT NOT NULL,
  share REAL NOT NULL CHECK (share BETWEEN 0 AND 1),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  PRIMARY KEY (design_id, check_key, block)
) STRICT;
