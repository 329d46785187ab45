CREATE TABLE part (
  id TEXT PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN (
    'resistor', 'capacitor', 'inductor', 'crystal', 'diode', 'transistor', 'chip', 'display', 'connector',
    'switch', 'fuse', 'transformer', 'board', 'case', 'other')),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  value TEXT NOT NULL DEFAULT '' CHECK (length(value) <= 60),
  package TEXT NOT NULL DEFAULT '' CHECK (length(package) <= 60),
  rating TEXT NOT NULL DEFAULT '' CHECK (length(rating) <= 60),
  programmed INTEGER NOT NULL CHECK (programmed IN (0, 1)),
  socketed INTEGER NOT NULL CHECK (socketed IN (0, 1)),
  hard_to_find INTEGER NOT NULL CHECK (hard_to_find IN (0, 1)),
  image_sha256 TEXT CHECK (length(image_sha256) = 64),
  idcode TEXT CHECK (length(idcode) = 10),
  -- Kind, value, package and so on in one string: the same part written in two ways is one entry.
  sameness TEXT NOT NULL UNIQUE,
  at INTEGER NOT NULL
) STRICT;

CREATE TABLE batch (
  id TEXT PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE CHECK (number > 0),
  code TEXT NOT NULL UNIQUE,
  part_id TEXT NOT NULL REFERENCES part (id),
  gift_id TEXT UNIQUE REFERENCES gift (id),
  bought_from TEXT CHECK (length(bought_from) BETWEEN 1 AND 120),
  marking TEXT NOT NULL DEFAULT '' CHECK (length(marking) <= 80),
  date_code TEXT NOT NULL DEFAULT '' CHECK (length(date_code) <= 40),
  quantity INTEGER NOT NULL CHECK (quantity BETWEEN 0 AND 1000000),
  -- Found bad at inspection without a tag of their own.
  bad INTEGER NOT NULL DEFAULT 0 CHECK (bad BETWEEN 0 AND quantity),
  state TEXT NOT NULL CHECK (state IN ('available', 'quarantined')),
  reason TEXT CHECK (length(reason) BETWEEN 1 AND 500),
  at INTEGER NOT NULL,
  CHECK ((gift_id IS NULL) <> (bought_from IS NULL)),
  CHECK ((state = 'quarantined') = (reason IS NOT NULL))
) STRICT;
CREATE INDEX batch_of_part ON batch (part_id);

-- Each count, inspection and quarantine of a batch, never edited.
CREATE TABLE batch_change (
  id TEXT PRIMARY KEY,
  batch_id TEXT NOT NULL REFERENCES batch (id),
  what TEXT NOT NULL CHECK (what IN ('quantity', 'bad', 'state')),
  was TEXT NOT NULL,
  now TEXT NOT NULL,
  reason TEXT NOT NULL CHECK (length(reason) BETWEEN 1 AND 500),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX batch_change_of_batch ON batch_change (batch_id, at);

CREATE TABLE piece (
  id TEXT PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE CHECK (number > 0),
  tag TEXT NOT NULL UNIQUE,
  batch_id TEXT NOT NULL REFERENCES batch (id),
  verdict TEXT NOT NULL CHECK (verdict IN (
    'not inspected', 'good', 'good and blank', 'good and programmed', 'unknown image',
    'locked', 'reader uncertain', 'dead', 'wrong part', 'suspect')),
  symptom TEXT NOT NULL DEFAULT '' CHECK (length(symptom) <= 500),
  image_sha256 TEXT CHECK (length(image_sha256) = 64),
  idcode TEXT CHECK (length(idcode) = 10),
  at INTEGER NOT NULL
) STRICT;
CREATE INDEX piece_of_batch ON piece (batch_id);

-- What one reader or pair of eyes said of a piece at one time; the piece's verdict follows from all of them.
CREATE TABLE inspection (
  id TEXT PRIMARY KEY,
  piece_id TEXT NOT NULL REFERENCES piece (id),
  seq INTEGER NOT NULL CHECK (seq > 0),
  reader TEXT NOT NULL CHECK (length(reader) BETWEEN 1 AND 120),
  verdict TEXT NOT NULL CHECK (verdict IN (
    'good', 'good and blank', 'good and programmed', 'unknown image',
    'locked', 'reader uncertain', 'dead', 'wrong part', 'suspect')),
  symptom TEXT NOT NULL CHECK (length(symptom) <= 500),
  image_sha256 TEXT CHECK (length(image_sha256) = 64),
  idcode TEXT CHECK (length(idcode) = 10),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  UNIQUE (piece_id, seq)
) STRICT;
