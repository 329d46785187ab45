-- A file that goes with a letter: sealed while it waits, for its reader alone, and nothing of it but its name once it has gone.
ALTER TABLE letter ADD COLUMN attached_name TEXT;
ALTER TABLE letter ADD COLUMN sealed_attachment TEXT;

-- Lots of which everybody who bid on them was told in a letter of the day. What ended before there were such letters was told by others.
CREATE TABLE summed_up (
  lot_id TEXT NOT NULL PRIMARY KEY REFERENCES lot(id),
  at INTEGER NOT NULL
) STRICT;
INSERT INTO summed_up (lot_id, at) SELECT id, ended_at FROM lot WHERE ended_at IS NOT NULL;
