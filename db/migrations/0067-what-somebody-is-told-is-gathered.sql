-- What happened to somebody's bids and is to be told to them. What happens within a few minutes goes into one letter, and what
-- has stopped being true when it is written goes into none.
CREATE TABLE notice (
  id TEXT PRIMARY KEY,
  person_id TEXT NOT NULL REFERENCES person(id),
  lot_id TEXT NOT NULL REFERENCES lot(id),
  kind TEXT NOT NULL CHECK (kind IN ('outbid', 'bound-again', 'voided', 'won', 'lost', 'unsold', 'withdrawn', 'corrected', 'held', 'goes-on', 'moved', 'woken', 'lapsed', 'closes-soon')),
  at INTEGER NOT NULL,
  words TEXT NOT NULL DEFAULT '',
  sealed_words TEXT,
  -- The letter that says it; null as well for what went into none.
  letter_id TEXT,
  -- When it was gathered; null while it waits.
  gathered_at INTEGER,
  -- When a device of theirs was told.
  pushed_at INTEGER
) STRICT;
CREATE INDEX notice_waiting ON notice (at) WHERE gathered_at IS NULL;
CREATE INDEX notice_of_letter ON notice (letter_id) WHERE letter_id IS NOT NULL;
-- When a letter that waited was overtaken by what happened since: it does not go any more.
ALTER TABLE letter ADD COLUMN withdrawn_at INTEGER;
-- The time zone that somebody reads times in, as their browser or they themselves said; null for the campaign's.
ALTER TABLE person ADD COLUMN zone TEXT CHECK (length(zone) BETWEEN 1 AND 64);
