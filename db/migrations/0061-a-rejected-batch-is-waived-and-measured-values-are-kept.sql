-- A batch that its own sampling plan rejected goes into machines only once somebody has said so by name and why.
CREATE TABLE batch_waiver (
  batch_id TEXT PRIMARY KEY REFERENCES batch (id),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 80),
  reason TEXT NOT NULL CHECK (length(reason) BETWEEN 1 AND 300),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id)
) STRICT;
-- What a sample measured, as figures with their unit.
ALTER TABLE batch_test ADD COLUMN figures TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(figures));
ALTER TABLE batch_test ADD COLUMN unit TEXT NOT NULL DEFAULT '' CHECK (length(unit) <= 12);
