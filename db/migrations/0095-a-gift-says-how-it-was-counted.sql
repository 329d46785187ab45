-- How the number of a gift came about: counted, guessed from the look of the bag, or not counted yet.
ALTER TABLE gift ADD COLUMN how_counted TEXT NOT NULL DEFAULT 'counted' CHECK (how_counted IN ('counted', 'about', 'not yet'));
