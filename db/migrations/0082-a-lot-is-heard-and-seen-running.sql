-- Sound or video of a machine running, kept under the hash of what was sent, beside the photographs.
CREATE TABLE recording (
  sha TEXT PRIMARY KEY CHECK (length(sha) = 64),
  kind TEXT NOT NULL CHECK (kind IN ('mp4', 'webm', 'm4a', 'mp3', 'ogg', 'wav')),
  bytes INTEGER NOT NULL CHECK (bytes > 0),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL
) STRICT;

CREATE TABLE lot_recording (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  seq INTEGER NOT NULL,
  sha TEXT NOT NULL REFERENCES recording (sha),
  caption TEXT NOT NULL CHECK (length(caption) BETWEEN 1 AND 200),
  -- What there is to hear and see, for those who cannot.
  description TEXT NOT NULL CHECK (length(description) BETWEEN 1 AND 2000),
  PRIMARY KEY (lot_id, seq)
) STRICT;
