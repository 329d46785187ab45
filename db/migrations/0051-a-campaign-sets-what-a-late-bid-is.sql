-- Seconds before a closing in which a bid is late, and seconds after itself to which it moves the closing. Lots that are open
-- keep the rule that stands in their terms; terms from before there was one follow 120 and 120.
ALTER TABLE campaign ADD COLUMN late_window_seconds INTEGER NOT NULL DEFAULT 120 CHECK (late_window_seconds BETWEEN 30 AND 600);
ALTER TABLE campaign ADD COLUMN late_adds_seconds INTEGER NOT NULL DEFAULT 120 CHECK (late_adds_seconds BETWEEN late_window_seconds AND 900);
