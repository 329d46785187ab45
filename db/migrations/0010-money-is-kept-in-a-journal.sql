-- Double entry: the lines of an entry sum to zero. Nothing is changed or taken out: a correction is another entry.
CREATE TABLE entry (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  at INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('hammer', 'postage', 'payment', 'gift', 'remittance')),
  memo TEXT NOT NULL DEFAULT '' CHECK (length(memo) <= 300),
  reference TEXT NOT NULL DEFAULT '' CHECK (length(reference) <= 80),
  value_on TEXT NOT NULL CHECK (value_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  lot_id TEXT REFERENCES lot (id),
  person_id TEXT REFERENCES person (id),
  donor_id TEXT REFERENCES donor (id),
  by_person_id TEXT REFERENCES person (id),
  corrects_id TEXT UNIQUE REFERENCES entry (id),
  CHECK (kind NOT IN ('hammer', 'postage', 'payment') OR lot_id IS NOT NULL)
) STRICT;
CREATE INDEX entry_of_a_lot ON entry (lot_id);

CREATE TABLE posting (
  entry_id TEXT NOT NULL REFERENCES entry (id),
  line INTEGER NOT NULL CHECK (line >= 0),
  account TEXT NOT NULL CHECK (account IN ('owed-by-buyers', 'bank', 'owed-to-cause', 'kept-by-seller', 'postage')),
  amount_minor INTEGER NOT NULL CHECK (amount_minor <> 0 AND amount_minor BETWEEN -9007199254740991 AND 9007199254740991),
  PRIMARY KEY (entry_id, line)
) STRICT;

CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END;
CREATE TRIGGER entry_is_never_removed BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'an entry is never removed'); END;
CREATE TRIGGER posting_is_never_changed BEFORE UPDATE ON posting BEGIN SELECT RAISE(ABORT, 'a posting is never changed'); END;
CREATE TRIGGER posting_is_never_removed BEFORE DELETE ON posting BEGIN SELECT RAISE(ABORT, 'a posting is never removed'); END;
