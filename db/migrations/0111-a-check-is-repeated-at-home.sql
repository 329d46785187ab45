-- How a buyer repeats a check at home: where to touch, what is needed, what to look and listen for. Empty for a check that stays at the bench.
ALTER TABLE check_step ADD COLUMN home_touch TEXT NOT NULL DEFAULT '' CHECK (length(home_touch) <= 400);
ALTER TABLE check_step ADD COLUMN home_needs TEXT NOT NULL DEFAULT '' CHECK (length(home_needs) <= 400);
ALTER TABLE check_step ADD COLUMN home_signs TEXT NOT NULL DEFAULT '' CHECK (length(home_signs) <= 400);
