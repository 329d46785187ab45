-- Photographs of the board of a design, for whoever looks for a fault: for a design by its key, so that a new revision keeps them.
CREATE TABLE board_photograph (
  design_key TEXT NOT NULL CHECK (length(design_key) BETWEEN 1 AND 40),
  photo_sha TEXT NOT NULL REFERENCES photograph (sha),
  words TEXT NOT NULL CHECK (length(words) <= 80),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  PRIMARY KEY (design_key, photo_sha)
) STRICT;

-- A part or a test point on one of them, in thousandths of its width and height from the upper left.
CREATE TABLE board_pin (
  design_key TEXT NOT NULL,
  photo_sha TEXT NOT NULL,
  mark TEXT NOT NULL CHECK (length(mark) BETWEEN 1 AND 40),
  x INTEGER NOT NULL CHECK (x BETWEEN 0 AND 1000),
  y INTEGER NOT NULL CHECK (y BETWEEN 0 AND 1000),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  PRIMARY KEY (design_key, photo_sha, mark),
  FOREIGN KEY (design_key, photo_sha) REFERENCES board_photograph (design_key, photo_sha) ON DELETE CASCADE
) STRICT;
