-- The last letter of a campaign: what everything that a donor gave has become. Once to each.
CREATE TABLE last_letter (
  donor_id TEXT PRIMARY KEY REFERENCES donor (id),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL
) STRICT;
