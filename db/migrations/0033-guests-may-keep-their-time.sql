-- A guest or a break that cannot come later: the day moves around it.
ALTER TABLE programme_item ADD COLUMN keeps_time INTEGER NOT NULL DEFAULT 0 CHECK (keeps_time IN (0, 1));
