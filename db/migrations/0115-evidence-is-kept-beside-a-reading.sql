-- Files that are neither pictures nor sound: the table of a sweep, with what is drawn of it, and images of firmware.
CREATE TABLE kept_file (
  sha TEXT NOT NULL CHECK (length(sha) = 64),
  kind TEXT NOT NULL CHECK (kind IN ('csv', 'bin')),
  bytes INTEGER NOT NULL CHECK (bytes > 0),
  sweep TEXT CHECK (sweep IS NULL OR json_valid(sweep)),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  PRIMARY KEY (sha, kind)
) STRICT;

-- What was kept beside a reading, or of the machine as a whole. It may come later than the reading, and anybody sees it only once it is chosen.
CREATE TABLE evidence (
  id TEXT PRIMARY KEY,
  unit_id TEXT NOT NULL REFERENCES unit (id),
  reading_id TEXT REFERENCES reading (id),
  check_key TEXT,
  kind TEXT NOT NULL CHECK (kind IN ('picture', 'sweep', 'firmware', 'recording')),
  sha TEXT NOT NULL CHECK (length(sha) = 64),
  ending TEXT NOT NULL CHECK (ending IN ('webp', 'csv', 'bin', 'mp4', 'webm', 'm4a', 'mp3', 'ogg', 'wav')),
  name TEXT NOT NULL CHECK (length(name) <= 120),
  words TEXT NOT NULL CHECK (length(words) <= 2000),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  shown_at INTEGER,
  taken_away_at INTEGER
) STRICT;
CREATE INDEX evidence_by_unit ON evidence (unit_id, at);
CREATE INDEX evidence_by_sha ON evidence (sha);

-- Photographs that came with their reading: their hash was in the public record, so they stay chosen.
INSERT INTO evidence (id, unit_id, reading_id, check_key, kind, sha, ending, name, words, at, by_person_id, shown_at)
SELECT 'of-' || id, unit_id, id, check_key, 'picture', photo_sha, 'webp', '', '', at, by_person_id, at FROM reading WHERE photo_sha IS NOT NULL;
