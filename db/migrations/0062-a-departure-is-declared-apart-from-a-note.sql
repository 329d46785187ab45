-- What departs from the method is declared for everybody to read; a note stays at the bench. Notes from before were not
-- written to be published, so none of them becomes a departure.
ALTER TABLE reading ADD COLUMN departure TEXT NOT NULL DEFAULT '' CHECK (length(departure) <= 500);
