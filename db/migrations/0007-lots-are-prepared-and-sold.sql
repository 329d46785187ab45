-- What is sold: a unit and its extras. From `leader_alias` on stands what is kept of the bidding for speed;
-- a check replays the ledger and compares.
CREATE TABLE lot (
  id TEXT PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE CHECK (number > 0),
  unit_id TEXT NOT NULL REFERENCES unit (id),
  unit_tag TEXT NOT NULL,
  title TEXT NOT NULL DEFAULT '' CHECK (length(title) <= 120),
  story TEXT NOT NULL DEFAULT '' CHECK (length(story) <= 6000),
  opening_minor INTEGER CHECK (opening_minor BETWEEN 1 AND 100000000000),
  reserve_decided INTEGER NOT NULL DEFAULT 0 CHECK (reserve_decided IN (0, 1)),
  reserve_minor INTEGER CHECK (reserve_minor BETWEEN 1 AND 100000000000),
  low_minor INTEGER CHECK (low_minor BETWEEN 0 AND 100000000000),
  likely_minor INTEGER CHECK (likely_minor BETWEEN 0 AND 100000000000),
  high_minor INTEGER CHECK (high_minor BETWEEN 0 AND 100000000000),
  weight_grams INTEGER CHECK (weight_grams BETWEEN 1 AND 1000000),
  length_mm INTEGER CHECK (length_mm BETWEEN 1 AND 10000),
  width_mm INTEGER CHECK (width_mm BETWEEN 1 AND 10000),
  height_mm INTEGER CHECK (height_mm BETWEEN 1 AND 10000),
  sold_where TEXT NOT NULL DEFAULT 'here' CHECK (sold_where IN ('here', 'elsewhere')),
  elsewhere_url TEXT,
  priced_by_person_id TEXT REFERENCES person (id),
  state TEXT NOT NULL DEFAULT 'draft' CHECK (state IN ('draft', 'ready', 'open', 'held', 'sold', 'unsold', 'withdrawn')),
  closes_at INTEGER,
  opened_at INTEGER,
  terms TEXT CHECK (terms IS NULL OR json_valid(terms)),
  held_since INTEGER,
  held_reason TEXT,
  held_with_all INTEGER NOT NULL DEFAULT 0 CHECK (held_with_all IN (0, 1)),
  ended_at INTEGER,
  end_reason TEXT,
  hammer_minor INTEGER CHECK (hammer_minor BETWEEN 0 AND 100000000000),
  winner_person_id TEXT REFERENCES person (id),
  leader_alias TEXT,
  leader_person_id TEXT REFERENCES person (id),
  leader_maximum_minor INTEGER,
  leader_sequence INTEGER,
  second_alias TEXT,
  second_maximum_minor INTEGER,
  second_sequence INTEGER,
  standing_minor INTEGER,
  bids INTEGER NOT NULL DEFAULT 0 CHECK (bids >= 0),
  sequence INTEGER NOT NULL DEFAULT 0 CHECK (sequence >= 0),
  extensions INTEGER NOT NULL DEFAULT 0 CHECK (extensions >= 0),
  ledger_size INTEGER NOT NULL DEFAULT 0 CHECK (ledger_size >= 0),
  ledger_peaks TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(ledger_peaks)),
  head_hash TEXT,
  CHECK ((state = 'held') = (held_since IS NOT NULL)),
  CHECK (reserve_decided = 1 OR reserve_minor IS NULL),
  CHECK (state IN ('draft', 'ready') OR ended_at IS NOT NULL OR (terms IS NOT NULL AND closes_at IS NOT NULL)),
  CHECK ((leader_alias IS NULL) = (standing_minor IS NULL))
) STRICT;
CREATE INDEX lot_due ON lot (closes_at) WHERE state = 'open';
-- A unit is sold once: a second lot of it only after the first was withdrawn or went unsold.
CREATE UNIQUE INDEX lot_one_for_a_unit ON lot (unit_id) WHERE state NOT IN ('unsold', 'withdrawn');

CREATE TABLE lot_extra (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  seq INTEGER NOT NULL,
  words TEXT NOT NULL CHECK (length(words) BETWEEN 1 AND 200),
  gift_id TEXT REFERENCES gift (id),
  PRIMARY KEY (lot_id, seq)
) STRICT;

CREATE TABLE lot_photograph (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  seq INTEGER NOT NULL,
  sha TEXT NOT NULL REFERENCES photograph (sha),
  caption TEXT NOT NULL CHECK (length(caption) BETWEEN 1 AND 200),
  PRIMARY KEY (lot_id, seq)
) STRICT;

-- Where it can be sent and for how much; `countries` is "*" for everywhere else.
CREATE TABLE lot_postage (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  seq INTEGER NOT NULL,
  zone TEXT NOT NULL CHECK (length(zone) BETWEEN 1 AND 80),
  countries TEXT NOT NULL CHECK (json_valid(countries)),
  amount_minor INTEGER NOT NULL CHECK (amount_minor BETWEEN 0 AND 100000000000),
  PRIMARY KEY (lot_id, seq)
) STRICT;
