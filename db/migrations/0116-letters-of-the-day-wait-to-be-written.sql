-- To whom a letter of the day is still to be written, about which of the lots on which they bid, and of which of them nothing has told them yet.
CREATE TABLE day_letter (
  person_id TEXT NOT NULL REFERENCES person (id),
  at INTEGER NOT NULL,
  day TEXT NOT NULL,
  lots TEXT NOT NULL,
  untold TEXT NOT NULL,
  PRIMARY KEY (person_id, at)
) STRICT;
