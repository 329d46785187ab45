-- A browser on a device that is told of things by its push service (RFC 8030), and of whose bidder it is.
CREATE TABLE push_device (
  id TEXT PRIMARY KEY,
  person_id TEXT NOT NULL REFERENCES person(id),
  endpoint TEXT NOT NULL UNIQUE,
  p256dh TEXT NOT NULL,
  auth TEXT NOT NULL,
  -- The public half of the house's key that it was made for: with another one it takes nothing.
  key TEXT NOT NULL,
  name TEXT NOT NULL,
  at INTEGER NOT NULL,
  told_at INTEGER
) STRICT;
CREATE INDEX push_device_of ON push_device (person_id);
-- What somebody wants their devices to be told of: one lot, by its id, or 'mine' for every lot that they bid on.
CREATE TABLE push_wish (
  person_id TEXT NOT NULL REFERENCES person(id),
  of TEXT NOT NULL,
  at INTEGER NOT NULL,
  PRIMARY KEY (person_id, of)
) STRICT;
