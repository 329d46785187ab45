-- Where a batch lies: "drawer 4", "shelf B". A list for picking parts goes from place to place.
ALTER TABLE batch ADD COLUMN place TEXT NOT NULL DEFAULT '' CHECK (length(place) <= 60);
