-- Two records of one donor become one: the record that is given up stays, and says into which it went.
ALTER TABLE donor ADD COLUMN merged_into_id TEXT REFERENCES donor (id);
ALTER TABLE donor ADD COLUMN merged_at INTEGER;
-- Stands in for the sender of a parcel whom nobody knows yet; claimed by being merged into a donor's record.
ALTER TABLE donor ADD COLUMN is_stand_in INTEGER NOT NULL DEFAULT 0 CHECK (is_stand_in IN (0, 1));
-- What the donor asks to be called, until the staff have read it: text from outside is approved before it shows.
ALTER TABLE donor ADD COLUMN asked_credit_name TEXT CHECK (length(asked_credit_name) BETWEEN 1 AND 120);
ALTER TABLE donor ADD COLUMN asked_say_it TEXT CHECK (length(asked_say_it) <= 120);
CREATE INDEX donor_by_contact ON donor (lower(contact));
CREATE INDEX gift_for_unit ON gift (only_for_unit_id) WHERE only_for_unit_id IS NOT NULL;
CREATE INDEX gift_for_design ON gift (only_for_design_id) WHERE only_for_design_id IS NOT NULL;

-- A gift may change its donor: a parcel is claimed, or two records are merged.
CREATE TABLE gift_change_next (
  id TEXT PRIMARY KEY,
  gift_id TEXT NOT NULL REFERENCES gift (id),
  what TEXT NOT NULL CHECK (what IN ('state', 'quantity', 'restriction', 'approval', 'donor')),
  was TEXT NOT NULL,
  now TEXT NOT NULL,
  reason TEXT NOT NULL DEFAULT '' CHECK (length(reason) <= 500),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id)
) STRICT;
INSERT INTO gift_change_next SELECT * FROM gift_change ORDER BY rowid;
DROP TABLE gift_change;
ALTER TABLE gift_change_next RENAME TO gift_change;
CREATE INDEX gift_change_of_gift ON gift_change (gift_id, at);

-- The key of a donor's private page, of which only the hash is kept.
CREATE TABLE donor_link (
  id TEXT PRIMARY KEY,
  donor_id TEXT NOT NULL REFERENCES donor (id),
  token_hash TEXT NOT NULL UNIQUE CHECK (length(token_hash) = 64),
  made_at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id),
  closed_at INTEGER
) STRICT;
CREATE INDEX donor_link_of_donor ON donor_link (donor_id);

-- What a donor was told after the hammer: that this gift was sold in that lot.
CREATE TABLE thanks_told (
  gift_id TEXT NOT NULL REFERENCES gift (id),
  lot_id TEXT NOT NULL REFERENCES lot (id),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  PRIMARY KEY (gift_id, lot_id)
) STRICT;
