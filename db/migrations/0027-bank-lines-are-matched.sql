-- One line of a bank's statement, kept once however often its file is read.
CREATE TABLE bank_line (
  id TEXT PRIMARY KEY,
  -- Of its content, and which of several lines with the same content it is.
  digest TEXT NOT NULL CHECK (length(digest) = 64),
  twin INTEGER NOT NULL CHECK (twin >= 0),
  seq INTEGER NOT NULL UNIQUE,
  value_on TEXT NOT NULL CHECK (length(value_on) = 10),
  amount_minor INTEGER NOT NULL CHECK (amount_minor <> 0),
  words TEXT NOT NULL CHECK (length(words) <= 1000),
  name TEXT NOT NULL CHECK (length(name) <= 300),
  reference TEXT NOT NULL CHECK (length(reference) <= 200),
  file TEXT NOT NULL CHECK (length(file) <= 200),
  line INTEGER NOT NULL CHECK (line >= 0),
  read_at INTEGER NOT NULL,
  read_by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'placed', 'set aside')),
  why TEXT NOT NULL DEFAULT '' CHECK (length(why) <= 300),
  settled_at INTEGER,
  settled_by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  UNIQUE (digest, twin),
  CHECK ((state = 'open') = (settled_at IS NULL))
) STRICT;
CREATE INDEX bank_lines_open ON bank_line (seq) WHERE state = 'open';

-- Which entries of the journal a line is; an entry is on the bank's paper once.
CREATE TABLE bank_match (
  entry_id TEXT PRIMARY KEY REFERENCES entry (id),
  line_id TEXT NOT NULL REFERENCES bank_line (id),
  -- True where the entry was written because of this line.
  is_made INTEGER NOT NULL CHECK (is_made IN (0, 1))
) STRICT;
CREATE INDEX bank_match_of_line ON bank_match (line_id);
