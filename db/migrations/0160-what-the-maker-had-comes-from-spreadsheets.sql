-- A spreadsheet that is being read, and what was stored of it. What it holds goes once it is stored.
CREATE TABLE sheet (
  id TEXT PRIMARY KEY,
  what TEXT NOT NULL CHECK (what IN ('donors', 'shelf', 'machines')),
  name TEXT NOT NULL CHECK (length(name) <= 200),
  -- The file in base64, or what was pasted; neither once it is stored.
  base64 TEXT,
  pasted TEXT,
  choice TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(choice)),
  answers TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(answers)),
  state TEXT NOT NULL CHECK (state IN ('open', 'storing', 'stored')),
  -- What is to be stored, one thing after another, and how many of them are.
  plan TEXT CHECK (json_valid(plan)),
  items INTEGER NOT NULL DEFAULT 0 CHECK (items >= 0),
  done INTEGER NOT NULL DEFAULT 0 CHECK (done BETWEEN 0 AND items),
  summary TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(summary)),
  -- SHA-256 of what was stored, so that the same sheet is known again.
  digest TEXT CHECK (length(digest) = 64),
  at INTEGER NOT NULL,
  changed_at INTEGER NOT NULL,
  stored_at INTEGER,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  CHECK ((state = 'open') = (base64 IS NOT NULL OR pasted IS NOT NULL)),
  CHECK (base64 IS NULL OR pasted IS NULL),
  CHECK ((state = 'storing') = (plan IS NOT NULL)),
  CHECK ((state = 'stored') = (stored_at IS NOT NULL)),
  CHECK (state <> 'stored' OR done = items)
) STRICT;
CREATE INDEX sheet_by_state ON sheet (state, at);

-- A machine that was built before this house: counted in no campaign's sums, and nobody's name beside it.
CREATE TABLE earlier_machine (
  id TEXT PRIMARY KEY,
  design TEXT NOT NULL CHECK (length(design) BETWEEN 1 AND 80),
  serial TEXT NOT NULL DEFAULT '' CHECK (length(serial) <= 60),
  -- A year, a month or a day, as well as it is known.
  built_on TEXT CHECK (length(built_on) IN (4, 7, 10)),
  minutes INTEGER CHECK (minutes BETWEEN 1 AND 600000),
  raised_minor INTEGER CHECK (raised_minor BETWEEN 0 AND 100000000000),
  currency TEXT CHECK (length(currency) = 3),
  fate TEXT NOT NULL CHECK (fate IN ('sold', 'given away', 'kept', 'taken apart', 'lost', 'not known')),
  fate_on TEXT CHECK (length(fate_on) IN (4, 7, 10)),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  CHECK ((raised_minor IS NULL) = (currency IS NULL))
) STRICT;
CREATE INDEX earlier_machine_of_design ON earlier_machine (design, serial);

-- What came by a gift is counted as its gift says; what did not may be "about 30" as well, or not counted yet.
ALTER TABLE batch ADD COLUMN how_counted TEXT NOT NULL DEFAULT 'counted' CHECK (how_counted IN ('counted', 'about', 'not yet'));
