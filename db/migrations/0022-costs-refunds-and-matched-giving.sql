-- Costs, fees, refunds, matched giving, money without a home, sales that fall through. Wider CHECKs need new tables: all lines are carried over.
CREATE TABLE kept_entry AS SELECT * FROM entry;
CREATE TABLE kept_posting AS SELECT * FROM posting;
DROP TABLE posting;
DROP TABLE entry;

-- What somebody promised to add: so much for each pound of what was counted, up to a cap.
CREATE TABLE match_promise (
  id TEXT PRIMARY KEY,
  from_name TEXT NOT NULL CHECK (length(from_name) BETWEEN 1 AND 120),
  donor_id TEXT REFERENCES donor (id),
  base TEXT NOT NULL CHECK (base IN ('lots', 'gifts', 'lots and gifts')),
  ratio_bp INTEGER NOT NULL CHECK (ratio_bp BETWEEN 1 AND 1000000),
  cap_minor INTEGER NOT NULL CHECK (cap_minor BETWEEN 1 AND 100000000000),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id),
  ended_at INTEGER,
  ended_why TEXT NOT NULL DEFAULT '' CHECK (length(ended_why) <= 200),
  CHECK ((ended_at IS NULL) = (ended_why = ''))
) STRICT;

CREATE TABLE entry (
  seq INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  at INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (
    kind IN (
      'hammer', 'resale', 'reversal', 'reduction', 'postage', 'payment', 'release', 'unplaced', 'refund', 'gift', 'matched', 'cost', 'fee', 'remittance'
    )
  ),
  memo TEXT NOT NULL DEFAULT '' CHECK (length(memo) <= 300),
  reference TEXT NOT NULL DEFAULT '' CHECK (length(reference) <= 80),
  value_on TEXT NOT NULL CHECK (value_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  lot_id TEXT REFERENCES lot (id),
  person_id TEXT REFERENCES person (id),
  donor_id TEXT REFERENCES donor (id),
  by_person_id TEXT REFERENCES person (id),
  corrects_id TEXT UNIQUE REFERENCES entry (id),
  -- The entry with which money came that had no home; this one takes of it.
  places_id TEXT REFERENCES entry (id),
  promise_id TEXT REFERENCES match_promise (id),
  -- What a cost was for.
  about TEXT NOT NULL DEFAULT '' CHECK (about IN ('', 'parts', 'tools', 'sending', 'stream', 'other')),
  run_id TEXT REFERENCES run (id),
  CHECK (kind NOT IN ('hammer', 'resale', 'reversal', 'reduction', 'postage', 'payment', 'release') OR lot_id IS NOT NULL),
  CHECK ((kind = 'matched') = (promise_id IS NOT NULL)),
  CHECK (kind NOT IN ('cost', 'fee') OR about <> '')
) STRICT;
CREATE INDEX entry_of_a_lot ON entry (lot_id);

CREATE TABLE posting (
  entry_id TEXT NOT NULL REFERENCES entry (id),
  line INTEGER NOT NULL CHECK (line >= 0),
  account TEXT NOT NULL CHECK (
    account IN (
      'owed-by-buyers', 'bank', 'owed-to-cause', 'kept-by-seller', 'postage', 'unplaced', 'cost-to-cause', 'cost-to-seller', 'cost-of-sending'
    )
  ),
  amount_minor INTEGER NOT NULL CHECK (amount_minor <> 0 AND amount_minor BETWEEN -9007199254740991 AND 9007199254740991),
  PRIMARY KEY (entry_id, line)
) STRICT;

INSERT INTO entry (seq, id, at, kind, memo, reference, value_on, lot_id, person_id, donor_id, by_person_id, corrects_id)
SELECT seq, id, at, kind, memo, reference, value_on, lot_id, person_id, donor_id, by_person_id, corrects_id FROM kept_entry;
INSERT INTO posting SELECT entry_id, line, account, amount_minor FROM kept_posting;
DROP TABLE kept_entry;
DROP TABLE kept_posting;

CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END;
CREATE TRIGGER entry_is_never_removed BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'an entry is never removed'); END;
CREATE TRIGGER posting_is_never_changed BEFORE UPDATE ON posting BEGIN SELECT RAISE(ABORT, 'a posting is never changed'); END;
CREATE TRIGGER posting_is_never_removed BEFORE DELETE ON posting BEGIN SELECT RAISE(ABORT, 'a posting is never removed'); END;
