-- One key at a time, and only its SHA-256: whoever reads the database or a backup cannot open the overlay.
CREATE TABLE overlay_key (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  digest TEXT NOT NULL CHECK (length(digest) = 64),
  made_at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id)
) STRICT;
