-- Instants are UTC milliseconds. The civil time that was typed is kept with its zone, resolved once.
CREATE TABLE programme_item (
  id TEXT PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN ('closing', 'guest', 'break')),
  lot_id TEXT UNIQUE REFERENCES lot (id),
  title TEXT NOT NULL CHECK (length(title) BETWEEN 1 AND 120),
  note TEXT NOT NULL DEFAULT '' CHECK (length(note) <= 600),
  starts_at INTEGER NOT NULL,
  ends_at INTEGER NOT NULL CHECK (ends_at >= starts_at),
  civil_start TEXT NOT NULL,
  zone TEXT NOT NULL,
  announced_at INTEGER,
  sequence INTEGER NOT NULL DEFAULT 0 CHECK (sequence >= 0),
  changed_at INTEGER NOT NULL,
  CHECK ((kind = 'closing') = (lot_id IS NOT NULL)),
  CHECK ((kind = 'closing') = (starts_at = ends_at))
) STRICT;
CREATE INDEX programme_item_in_order ON programme_item (starts_at);

-- Where the audience lives, each zone with its share in basis points.
CREATE TABLE audience_zone (
  zone TEXT PRIMARY KEY,
  share_bp INTEGER NOT NULL CHECK (share_bp BETWEEN 1 AND 10000)
) STRICT;
