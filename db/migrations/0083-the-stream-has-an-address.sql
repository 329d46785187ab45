-- Where the video of the day is watched, and what a page of the house may show it in; empty where there is none.
ALTER TABLE campaign ADD COLUMN stream_url TEXT NOT NULL DEFAULT '' CHECK (length(stream_url) <= 500);
ALTER TABLE campaign ADD COLUMN player_url TEXT NOT NULL DEFAULT '' CHECK (length(player_url) <= 500);
