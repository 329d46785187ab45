-- Whether a buyer who won several lots wants them in one parcel or in several. Whoever sends decides.
CREATE TABLE parcel_wish (
  person_id TEXT PRIMARY KEY REFERENCES person (id),
  wants TEXT NOT NULL CHECK (wants IN ('one', 'several')),
  at INTEGER NOT NULL
) STRICT;
