CREATE TABLE donor (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  credit_name TEXT NOT NULL CHECK (length(credit_name) BETWEEN 1 AND 120),
  say_it TEXT NOT NULL DEFAULT '' CHECK (length(say_it) <= 120),
  contact TEXT NOT NULL DEFAULT '' CHECK (length(contact) <= 254),
  anonymity TEXT NOT NULL CHECK (anonymity IN ('named', 'friend', 'maker-only', 'unknown')),
  -- What came from outside is shown to nobody but the staff until it is approved.
  approved INTEGER NOT NULL CHECK (approved IN (0, 1)),
  at INTEGER NOT NULL
) STRICT;

-- One line for each time a consent was given or withdrawn; the latest of a use counts.
CREATE TABLE consent (
  id TEXT PRIMARY KEY,
  donor_id TEXT NOT NULL REFERENCES donor (id),
  use TEXT NOT NULL CHECK (use IN ('page', 'stream', 'card')),
  given INTEGER NOT NULL CHECK (given IN (0, 1)),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id)
) STRICT;
CREATE INDEX consent_of_donor ON consent (donor_id, use, at);

CREATE TABLE parcel (
  id TEXT PRIMARY KEY,
  donor_id TEXT NOT NULL REFERENCES donor (id),
  arrived_at INTEGER NOT NULL,
  photo_sha TEXT REFERENCES photograph (sha),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 1000),
  by_person_id TEXT NOT NULL REFERENCES person (id)
) STRICT;
CREATE INDEX parcel_by_arrival ON parcel (arrived_at);

CREATE TABLE gift (
  id TEXT PRIMARY KEY,
  donor_id TEXT NOT NULL REFERENCES donor (id),
  kind TEXT NOT NULL CHECK (kind IN ('parts', 'boards', 'cases', 'extras', 'labour', 'postage', 'money')),
  part_id TEXT REFERENCES part (id),
  words TEXT NOT NULL DEFAULT '' CHECK (length(words) <= 200),
  quantity INTEGER NOT NULL CHECK (quantity BETWEEN 0 AND 1000000),
  -- Hours of labour are counted in minutes and have no cash value.
  minutes INTEGER CHECK (minutes BETWEEN 1 AND 600000),
  amount_minor INTEGER CHECK (amount_minor BETWEEN 1 AND 100000000000),
  only_for_unit_id TEXT REFERENCES unit (id),
  only_for_design_id TEXT REFERENCES design (id),
  state TEXT NOT NULL CHECK (state IN (
    'promised', 'on its way', 'arrived', 'counted', 'inspected', 'available',
    'fitted', 'spare', 'quarantined', 'declined', 'returned', 'destroyed')),
  parcel_id TEXT REFERENCES parcel (id),
  promised_at INTEGER,
  arrived_at INTEGER,
  split_from_id TEXT REFERENCES gift (id),
  approved INTEGER NOT NULL CHECK (approved IN (0, 1)),
  thanked_at INTEGER,
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id),
  CHECK ((kind = 'labour') = (minutes IS NOT NULL)),
  CHECK ((kind = 'money') = (amount_minor IS NOT NULL)),
  CHECK (only_for_unit_id IS NULL OR only_for_design_id IS NULL),
  CHECK ((state = 'promised' OR state = 'on its way' OR state = 'declined') OR arrived_at IS NOT NULL)
) STRICT;
CREATE INDEX gift_of_donor ON gift (donor_id);
CREATE INDEX gift_of_part ON gift (part_id, state);
CREATE INDEX gift_of_parcel ON gift (parcel_id);

-- What was changed in a gift line, by whom and why: a miscount is corrected with its history.
CREATE TABLE gift_change (
  id TEXT PRIMARY KEY,
  gift_id TEXT NOT NULL REFERENCES gift (id),
  what TEXT NOT NULL CHECK (what IN ('state', 'quantity', 'restriction', 'approval')),
  was TEXT NOT NULL,
  now TEXT NOT NULL,
  reason TEXT NOT NULL DEFAULT '' CHECK (length(reason) <= 500),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id)
) STRICT;
CREATE INDEX gift_change_of_gift ON gift_change (gift_id, at);
