-- A lot that ended unsold, was withdrawn, or whose sale fell through, offered at a fixed price to whoever says yes first.
CREATE TABLE fixed_price (
  id TEXT PRIMARY KEY,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  price_minor INTEGER NOT NULL CHECK (price_minor BETWEEN 1 AND 100000000000),
  -- The last day in the campaign's zone, and the instant at which it is over; neither where it stands until somebody ends it.
  last_day TEXT CHECK (last_day IS NULL OR length(last_day) = 10),
  open_until INTEGER,
  terms TEXT NOT NULL CHECK (json_valid(terms)),
  offered_at INTEGER NOT NULL,
  offered_by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  ended TEXT CHECK (ended IN ('taken', 'taken back', 'over')),
  ended_at INTEGER,
  -- The entry of the price: who bought it stands there alone.
  entry_id TEXT REFERENCES entry (id),
  fell_through_at INTEGER,
  CHECK ((last_day IS NULL) = (open_until IS NULL)),
  CHECK ((ended IS NULL) = (ended_at IS NULL)),
  CHECK ((ended IS 'taken') = (entry_id IS NOT NULL)),
  CHECK (fell_through_at IS NULL OR ended IS 'taken')
) STRICT;
CREATE UNIQUE INDEX one_fixed_price ON fixed_price (lot_id) WHERE ended IS NULL;
CREATE INDEX fixed_price_of_lot ON fixed_price (lot_id, offered_at);
