-- The ladder: of the campaign, and of a lot that has one of its own. What was corrected stands on the lot for its pages.
CREATE TABLE sale_rule (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  ladder TEXT NOT NULL CHECK (json_valid(ladder))
) STRICT;
ALTER TABLE lot ADD COLUMN ladder TEXT CHECK (ladder IS NULL OR json_valid(ladder));
ALTER TABLE lot ADD COLUMN corrections TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(corrections));
-- Where the result of a lot that was sold elsewhere can be read.
ALTER TABLE lot ADD COLUMN result_source TEXT CHECK (length(result_source) <= 300);

-- Either-or: lots in order with a maximum each, at most so many of them, and a cap on the hammer total.
CREATE TABLE chain (
  id TEXT PRIMARY KEY,
  person_id TEXT NOT NULL REFERENCES person (id),
  most_wins INTEGER NOT NULL CHECK (most_wins BETWEEN 1 AND 12),
  cap_minor INTEGER CHECK (cap_minor BETWEEN 1 AND 100000000000),
  at INTEGER NOT NULL
) STRICT;
CREATE INDEX chain_of_a_person ON chain (person_id);

CREATE TABLE chain_link (
  chain_id TEXT NOT NULL REFERENCES chain (id),
  place INTEGER NOT NULL CHECK (place BETWEEN 1 AND 12),
  lot_id TEXT NOT NULL REFERENCES lot (id),
  maximum_minor INTEGER NOT NULL CHECK (maximum_minor BETWEEN 1 AND 100000000000),
  phase TEXT NOT NULL DEFAULT 'waiting' CHECK (phase IN ('waiting', 'awake', 'won', 'lost', 'lapsed')),
  why TEXT CHECK (length(why) <= 300),
  woke_at INTEGER,
  hammer_minor INTEGER,
  PRIMARY KEY (chain_id, place),
  UNIQUE (chain_id, lot_id),
  CHECK ((phase = 'lapsed') = (why IS NOT NULL)),
  CHECK ((phase = 'won') = (hammer_minor IS NOT NULL))
) STRICT;
CREATE INDEX chain_link_in_play ON chain_link (lot_id) WHERE phase IN ('waiting', 'awake');

-- What a bidder says of being connected: with the whole sale, or with one lot.
CREATE TABLE disclosure (
  id TEXT PRIMARY KEY,
  person_id TEXT NOT NULL REFERENCES person (id),
  lot_id TEXT REFERENCES lot (id),
  kind TEXT NOT NULL CHECK (kind IN ('none', 'gave', 'household', 'worked')),
  words TEXT NOT NULL DEFAULT '' CHECK (length(words) <= 300),
  at INTEGER NOT NULL
) STRICT;
CREATE INDEX disclosure_of_a_person ON disclosure (person_id);

-- Which address and which browser a bid came from, as keyed hashes and for the campaign's term only.
CREATE TABLE bid_trace (
  person_id TEXT NOT NULL REFERENCES person (id),
  lot_id TEXT NOT NULL REFERENCES lot (id),
  kind TEXT NOT NULL CHECK (kind IN ('address', 'device')),
  hash TEXT NOT NULL CHECK (length(hash) = 32),
  at INTEGER NOT NULL,
  PRIMARY KEY (person_id, lot_id, kind, hash)
) STRICT;

-- A bidder asks that a bid be taken back; only the staff can void it.
CREATE TABLE retraction_request (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  person_id TEXT NOT NULL REFERENCES person (id),
  reason TEXT NOT NULL CHECK (length(reason) BETWEEN 1 AND 300),
  at INTEGER NOT NULL,
  PRIMARY KEY (lot_id, person_id)
) STRICT;

-- Who wants a mail before a lot closes; for which closing it was sent.
CREATE TABLE reminder (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  person_id TEXT NOT NULL REFERENCES person (id),
  at INTEGER NOT NULL,
  sent_at INTEGER,
  PRIMARY KEY (lot_id, person_id)
) STRICT;
CREATE INDEX reminder_due ON reminder (lot_id) WHERE sent_at IS NULL;
