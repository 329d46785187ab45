CREATE TABLE design (
  id TEXT PRIMARY KEY,
  key TEXT NOT NULL CHECK (length(key) BETWEEN 2 AND 40),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 80),
  revision TEXT NOT NULL CHECK (length(revision) BETWEEN 1 AND 20),
  decision_rule TEXT NOT NULL CHECK (decision_rule IN ('simple', 'guarded', 'guarded-with-doubt')),
  quirks TEXT NOT NULL DEFAULT '',
  cautions TEXT NOT NULL DEFAULT '',
  digest TEXT NOT NULL CHECK (length(digest) = 64),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  UNIQUE (key, revision)
) STRICT;

CREATE TABLE parts_line (
  id TEXT PRIMARY KEY,
  design_id TEXT NOT NULL REFERENCES design (id) ON DELETE CASCADE,
  line INTEGER NOT NULL CHECK (line > 0),
  part_id TEXT NOT NULL REFERENCES part (id),
  quantity INTEGER NOT NULL CHECK (quantity > 0),
  fitted_after TEXT,
  notes TEXT NOT NULL DEFAULT '',
  UNIQUE (design_id, line)
) STRICT;
CREATE INDEX parts_line_by_part ON parts_line (part_id);

CREATE TABLE position (
  design_id TEXT NOT NULL REFERENCES design (id) ON DELETE CASCADE,
  designator TEXT NOT NULL,
  part_id TEXT NOT NULL REFERENCES part (id),
  line_id TEXT NOT NULL REFERENCES parts_line (id) ON DELETE CASCADE,
  blocks TEXT NOT NULL CHECK (json_valid(blocks)),
  fitted_after TEXT,
  PRIMARY KEY (design_id, designator)
) STRICT;

CREATE TABLE block (
  design_id TEXT NOT NULL REFERENCES design (id) ON DELETE CASCADE,
  name TEXT NOT NULL,
  seq INTEGER NOT NULL,
  PRIMARY KEY (design_id, name)
) STRICT;

CREATE TABLE feed (
  design_id TEXT NOT NULL REFERENCES design (id) ON DELETE CASCADE,
  from_block TEXT NOT NULL,
  to_block TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('power', 'signal')),
  PRIMARY KEY (design_id, from_block, to_block, kind),
  FOREIGN KEY (design_id, from_block) REFERENCES block (design_id, name),
  FOREIGN KEY (design_id, to_block) REFERENCES block (design_id, name),
  CHECK (from_block <> to_block)
) STRICT;

-- A limit that is null is open on that side.
CREATE TABLE check_step (
  design_id TEXT NOT NULL REFERENCES design (id) ON DELETE CASCADE,
  key TEXT NOT NULL CHECK (length(key) BETWEEN 1 AND 12),
  seq INTEGER NOT NULL CHECK (seq > 0),
  stage TEXT NOT NULL,
  hold INTEGER NOT NULL CHECK (hold IN (0, 1)),
  title TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('measure', 'count', 'match', 'yesno', 'soak')),
  nominal REAL,
  lower REAL,
  upper REAL,
  decimals INTEGER NOT NULL CHECK (decimals BETWEEN 0 AND 12),
  unit TEXT NOT NULL,
  after TEXT NOT NULL CHECK (json_valid(after)),
  exercises TEXT NOT NULL CHECK (json_valid(exercises)),
  powered INTEGER NOT NULL CHECK (powered IN (0, 1)),
  minutes REAL NOT NULL CHECK (minutes >= 0),
  hours REAL CHECK (hours > 0),
  starts INTEGER CHECK (starts >= 0),
  plain TEXT NOT NULL DEFAULT '',
  caution TEXT NOT NULL DEFAULT '',
  on_failure TEXT NOT NULL DEFAULT '',
  expects TEXT,
  PRIMARY KEY (design_id, key),
  UNIQUE (design_id, seq),
  CHECK (lower IS NULL OR upper IS NULL OR lower <= upper),
  CHECK ((kind = 'soak') = (hours IS NOT NULL))
) STRICT;
