-- What makes a reading doubtful beside its instrument, as it was written: probe, leads, temperature. And who checked an
-- instrument, against what.
ALTER TABLE reading ADD COLUMN further TEXT NOT NULL DEFAULT '' CHECK (length(further) <= 300);
ALTER TABLE instrument ADD COLUMN checked_by TEXT NOT NULL DEFAULT '' CHECK (length(checked_by) <= 80);
ALTER TABLE instrument ADD COLUMN checked_against TEXT NOT NULL DEFAULT '' CHECK (length(checked_against) <= 120);
