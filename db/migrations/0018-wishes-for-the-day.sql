-- What is wished for the closing of a lot: a pin that must be kept, or a wish with what keeping it may cost.
CREATE TABLE day_wish (
  id TEXT PRIMARY KEY,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  kind TEXT NOT NULL CHECK (kind IN ('guest', 'not-before', 'not-after', 'at', 'last', 'not-first')),
  guest_item_id TEXT REFERENCES programme_item (id) ON DELETE CASCADE,
  at INTEGER,
  is_pin INTEGER NOT NULL CHECK (is_pin IN (0, 1)),
  weight_minor INTEGER NOT NULL CHECK (weight_minor BETWEEN 0 AND 9007199254740992),
  made_at INTEGER NOT NULL,
  CHECK ((kind = 'guest') = (guest_item_id IS NOT NULL)),
  CHECK ((kind IN ('not-before', 'not-after', 'at')) = (at IS NOT NULL)),
  CHECK (is_pin = 0 OR weight_minor = 0)
) STRICT;
CREATE INDEX day_wish_of_a_lot ON day_wish (lot_id);
