-- What holds for every consignment: one row.
CREATE TABLE sending_terms (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  home_country TEXT NOT NULL CHECK (length(home_country) = 2),
  volumetric_divisor INTEGER NOT NULL CHECK (volumetric_divisor BETWEEN 1000 AND 10000),
  answer_hours INTEGER NOT NULL CHECK (answer_hours BETWEEN 1 AND 720),
  addresses_kept_days INTEGER NOT NULL CHECK (addresses_kept_days BETWEEN 14 AND 3650)
) STRICT;

-- The campaign's table of postage: a zone of countries, up to a weight, for a price.
CREATE TABLE postage_band (
  seq INTEGER PRIMARY KEY,
  zone TEXT NOT NULL CHECK (length(zone) BETWEEN 1 AND 80),
  countries TEXT NOT NULL CHECK (json_valid(countries)),
  up_to_grams INTEGER NOT NULL CHECK (up_to_grams BETWEEN 1 AND 1000000),
  amount_minor INTEGER NOT NULL CHECK (amount_minor BETWEEN 0 AND 100000000000)
) STRICT;

-- Where a won lot goes: asked of the buyer after winning, deleted when the term is over.
CREATE TABLE delivery_address (
  lot_id TEXT PRIMARY KEY REFERENCES lot (id),
  person_id TEXT NOT NULL REFERENCES person (id) ON DELETE CASCADE,
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  street TEXT NOT NULL CHECK (length(street) BETWEEN 1 AND 300),
  place TEXT NOT NULL CHECK (length(place) BETWEEN 1 AND 120),
  postcode TEXT NOT NULL CHECK (length(postcode) <= 20),
  country TEXT NOT NULL CHECK (length(country) = 2),
  telephone TEXT NOT NULL CHECK (length(telephone) <= 40),
  at INTEGER NOT NULL
) STRICT;

-- What goes out for one lot, from the first tick to the arrival.
CREATE TABLE consignment (
  lot_id TEXT PRIMARY KEY REFERENCES lot (id),
  weight_grams INTEGER CHECK (weight_grams BETWEEN 1 AND 1000000),
  length_mm INTEGER CHECK (length_mm BETWEEN 1 AND 10000),
  width_mm INTEGER CHECK (width_mm BETWEEN 1 AND 10000),
  height_mm INTEGER CHECK (height_mm BETWEEN 1 AND 10000),
  cells TEXT NOT NULL DEFAULT 'unsaid' CHECK (cells IN ('unsaid', 'none', 'dry', 'ion-inside', 'ion-beside', 'metal-inside', 'metal-beside')),
  milliwatt_hours INTEGER CHECK (milliwatt_hours BETWEEN 1 AND 10000000),
  mains TEXT NOT NULL DEFAULT 'unsaid' CHECK (mains IN ('unsaid', 'no', 'yes')),
  goods TEXT NOT NULL DEFAULT '' CHECK (length(goods) <= 300),
  origin TEXT NOT NULL DEFAULT '' CHECK (length(origin) IN (0, 2)),
  tariff_hint TEXT NOT NULL DEFAULT '' CHECK (length(tariff_hint) <= 80),
  carrier TEXT NOT NULL DEFAULT '' CHECK (length(carrier) <= 80),
  tracking TEXT NOT NULL DEFAULT '' CHECK (length(tracking) <= 80),
  tracking_url TEXT NOT NULL DEFAULT '' CHECK (length(tracking_url) <= 500),
  sent_at INTEGER,
  sent_by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  arrived_at INTEGER,
  arrival_said_by TEXT CHECK (arrival_said_by IN ('buyer', 'staff')),
  CHECK (arrived_at IS NULL OR sent_at IS NOT NULL),
  CHECK ((arrived_at IS NULL) = (arrival_said_by IS NULL))
) STRICT;

-- Each thing that was put in, by whom and when.
CREATE TABLE packed_item (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  item TEXT NOT NULL CHECK (length(item) BETWEEN 1 AND 40),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  PRIMARY KEY (lot_id, item)
) STRICT;

CREATE TABLE packing_photograph (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  seq INTEGER NOT NULL CHECK (seq >= 0),
  item TEXT NOT NULL CHECK (length(item) BETWEEN 1 AND 40),
  sha TEXT NOT NULL REFERENCES photograph (sha),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  PRIMARY KEY (lot_id, seq)
) STRICT;

-- What a buyer reported of a lot that was sent, with the hour by which it is first answered.
CREATE TABLE problem (
  id TEXT PRIMARY KEY,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  person_id TEXT NOT NULL REFERENCES person (id) ON DELETE CASCADE,
  opened_at INTEGER NOT NULL,
  answer_due_at INTEGER NOT NULL,
  answered_at INTEGER,
  ended_at INTEGER,
  ended_as TEXT CHECK (ended_as IN ('replaced', 'refunded', 'explained')),
  ended_words TEXT NOT NULL DEFAULT '' CHECK (length(ended_words) <= 2000),
  refund_minor INTEGER CHECK (refund_minor > 0),
  CHECK ((ended_at IS NULL) = (ended_as IS NULL)),
  CHECK (refund_minor IS NULL OR ended_as = 'refunded')
) STRICT;
CREATE UNIQUE INDEX one_open_problem ON problem (lot_id) WHERE ended_at IS NULL;

CREATE TABLE problem_note (
  problem_id TEXT NOT NULL REFERENCES problem (id) ON DELETE CASCADE,
  seq INTEGER NOT NULL CHECK (seq >= 0),
  at INTEGER NOT NULL,
  side TEXT NOT NULL CHECK (side IN ('buyer', 'staff')),
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  words TEXT NOT NULL CHECK (length(words) BETWEEN 1 AND 4000),
  PRIMARY KEY (problem_id, seq)
) STRICT;
