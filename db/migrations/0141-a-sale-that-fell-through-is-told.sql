-- Whoever bought a lot is told when its sale falls through, and when it stands again after all.
CREATE TABLE notice_with_sales (
  id TEXT PRIMARY KEY,
  person_id TEXT NOT NULL REFERENCES person(id),
  lot_id TEXT NOT NULL REFERENCES lot(id),
  kind TEXT NOT NULL CHECK (kind IN ('outbid', 'bound-again', 'voided', 'won', 'lost', 'unsold', 'withdrawn', 'corrected', 'held', 'goes-on', 'moved', 'woken', 'lapsed', 'closes-soon', 'fell-through', 'stands-again')),
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
INSERT INTO notice_with_sales SELECT id, person_id, lot_id, kind, at, words, sealed_words, letter_id, gathered_at, pushed_at FROM notice ORDER BY rowid;
DROP TABLE notice;
ALTER TABLE notice_with_sales RENAME TO notice;
CREATE INDEX notice_waiting ON notice (at) WHERE gathered_at IS NULL;
CREATE INDEX notice_of_letter ON notice (letter_id) WHERE letter_id IS NOT NULL;
CREATE INDEX notice_of_person ON notice (person_id);
