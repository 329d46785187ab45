CREATE TABLE run (
  id TEXT PRIMARY KEY,
  design_id TEXT NOT NULL REFERENCES design (id),
  tag_prefix TEXT NOT NULL UNIQUE CHECK (length(tag_prefix) BETWEEN 2 AND 8),
  at INTEGER NOT NULL
) STRICT;

CREATE TABLE unit (
  id TEXT PRIMARY KEY,
  tag TEXT NOT NULL UNIQUE,
  run_id TEXT NOT NULL REFERENCES run (id),
  number INTEGER NOT NULL CHECK (number > 0),
  at INTEGER NOT NULL,
  set_aside_at INTEGER,
  set_aside_reason TEXT,
  UNIQUE (run_id, number),
  CHECK ((set_aside_at IS NULL) = (set_aside_reason IS NULL))
) STRICT;

CREATE TABLE instrument (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL UNIQUE CHECK (length(name) BETWEEN 1 AND 80),
  accuracy TEXT NOT NULL,
  checked_at INTEGER NOT NULL,
  due_at INTEGER NOT NULL CHECK (due_at > checked_at)
) STRICT;

-- `seq` orders everything that happened to one unit: two commands may share a millisecond.
CREATE TABLE rework (
  id TEXT PRIMARY KEY,
  unit_id TEXT NOT NULL REFERENCES unit (id),
  seq INTEGER NOT NULL,
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  failed_check TEXT,
  fault TEXT NOT NULL CHECK (length(fault) > 0),
  changed TEXT NOT NULL CHECK (length(changed) > 0),
  designators TEXT NOT NULL CHECK (json_valid(designators)),
  blocks TEXT NOT NULL CHECK (json_valid(blocks)),
  iron INTEGER NOT NULL CHECK (iron IN (0, 1)),
  is_late_fitting INTEGER NOT NULL DEFAULT 0 CHECK (is_late_fitting IN (0, 1)),
  UNIQUE (unit_id, seq)
) STRICT;

CREATE TABLE fitting (
  id TEXT PRIMARY KEY,
  unit_id TEXT NOT NULL REFERENCES unit (id),
  designator TEXT NOT NULL,
  batch_id TEXT NOT NULL REFERENCES batch (id),
  piece_id TEXT REFERENCES piece (id),
  iron INTEGER NOT NULL CHECK (iron IN (0, 1)),
  kind TEXT NOT NULL CHECK (kind IN ('first', 'late', 'rework', 'correction')),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  rework_id TEXT REFERENCES rework (id),
  out_at INTEGER,
  out_by_person_id TEXT REFERENCES person (id),
  out_reason TEXT,
  out_rework_id TEXT REFERENCES rework (id),
  CHECK ((out_at IS NULL) = (out_reason IS NULL))
) STRICT;
CREATE UNIQUE INDEX fitting_one_in_a_position ON fitting (unit_id, designator) WHERE out_at IS NULL;
CREATE UNIQUE INDEX fitting_a_piece_is_in_one_place ON fitting (piece_id) WHERE out_at IS NULL AND piece_id IS NOT NULL;
CREATE INDEX fitting_by_batch ON fitting (batch_id);

-- A reading is never edited: the later one supersedes. What stood then (limits, unit, rule, instrument) is kept with it.
CREATE TABLE reading (
  id TEXT PRIMARY KEY,
  unit_id TEXT NOT NULL REFERENCES unit (id),
  seq INTEGER NOT NULL,
  check_key TEXT NOT NULL,
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  entry TEXT NOT NULL,
  value REAL NOT NULL,
  unit TEXT NOT NULL,
  nominal REAL,
  lower REAL,
  upper REAL,
  decimals INTEGER NOT NULL,
  rule TEXT NOT NULL CHECK (rule IN ('simple', 'guarded', 'guarded-with-doubt')),
  standard_uncertainty REAL CHECK (standard_uncertainty >= 0),
  expanded_uncertainty REAL CHECK (expanded_uncertainty >= 0),
  conformity REAL CHECK (conformity BETWEEN 0 AND 1),
  verdict TEXT NOT NULL CHECK (verdict IN ('pass', 'pass-within-doubt', 'fail-within-doubt', 'fail')),
  instrument_id TEXT REFERENCES instrument (id),
  instrument_words TEXT,
  instrument_overdue INTEGER NOT NULL DEFAULT 0 CHECK (instrument_overdue IN (0, 1)),
  ambient TEXT NOT NULL DEFAULT '',
  note TEXT NOT NULL DEFAULT '',
  file_sha TEXT CHECK (length(file_sha) IN (8, 64)),
  photo_sha TEXT REFERENCES photograph (sha),
  hours REAL,
  starts INTEGER,
  correction TEXT,
  batches TEXT NOT NULL CHECK (json_valid(batches)),
  revision TEXT NOT NULL,
  UNIQUE (unit_id, seq)
) STRICT;
CREATE INDEX reading_by_check ON reading (unit_id, check_key, seq);

CREATE TABLE hold_release (
  id TEXT PRIMARY KEY,
  unit_id TEXT NOT NULL REFERENCES unit (id),
  seq INTEGER NOT NULL,
  check_key TEXT NOT NULL,
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  name TEXT NOT NULL CHECK (length(name) > 0),
  UNIQUE (unit_id, seq)
) STRICT;
