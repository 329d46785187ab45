-- Days on which nobody works where an audience lives, besides weekends: written like 2027-03-26, with a space between two.
ALTER TABLE audience_zone ADD COLUMN days_off TEXT NOT NULL DEFAULT '' CHECK (length(days_off) <= 400);
