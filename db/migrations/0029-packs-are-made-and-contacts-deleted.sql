-- How long contact data is kept after the stream has ended: one row.
CREATE TABLE keeping_terms (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  contact_days INTEGER NOT NULL CHECK (contact_days BETWEEN 0 AND 3650)
) STRICT;

-- A pack that was made here: what it is known by. The file itself may have been deleted since.
CREATE TABLE pack_made (
  id TEXT PRIMARY KEY,
  file_name TEXT NOT NULL UNIQUE CHECK (length(file_name) BETWEEN 1 AND 200),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  bytes INTEGER NOT NULL CHECK (bytes > 0),
  sha256 TEXT NOT NULL CHECK (length(sha256) = 64),
  with_contacts INTEGER NOT NULL CHECK (with_contacts IN (0, 1)),
  -- 0 where sealed maxima were left out, since lots were still open.
  is_whole INTEGER NOT NULL CHECK (is_whole IN (0, 1)),
  last_entry INTEGER NOT NULL CHECK (last_entry >= 0)
) STRICT;

-- That contact data was deleted, when, and how much of each kind. Of whom is not kept: that is the point of it.
CREATE TABLE contact_deletion (
  id TEXT PRIMARY KEY,
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  counts TEXT NOT NULL CHECK (json_valid(counts))
) STRICT;
