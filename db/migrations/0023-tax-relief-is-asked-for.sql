-- Whether an estimate of tax relief is shown for a country: off until somebody of the staff has asked for it.
CREATE TABLE relief_switch (
  country TEXT PRIMARY KEY CHECK (country IN ('GB', 'US')),
  is_on INTEGER NOT NULL CHECK (is_on IN (0, 1)),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id)
) STRICT;

-- What a lot is worth elsewhere, published before bidding: the price at which the same thing can be had, and where.
CREATE TABLE lot_value (
  lot_id TEXT PRIMARY KEY REFERENCES lot (id),
  value_minor INTEGER NOT NULL CHECK (value_minor BETWEEN 1 AND 100000000000),
  known_from TEXT NOT NULL CHECK (length(known_from) BETWEEN 3 AND 200),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id)
) STRICT;
