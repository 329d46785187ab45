-- Which readings stand on the page of a lot, in what order: chosen for a design by its key, so that a new revision keeps the choice.
CREATE TABLE telling_reading (
  design_key TEXT NOT NULL CHECK (length(design_key) BETWEEN 1 AND 40),
  seq INTEGER NOT NULL CHECK (seq >= 0),
  check_key TEXT NOT NULL CHECK (length(check_key) BETWEEN 1 AND 40),
  PRIMARY KEY (design_key, seq)
) STRICT;
