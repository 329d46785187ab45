-- What a buyer found when they repeated key checks at home, shared with the maker: figures and a note, no name and no address.
CREATE TABLE home_report (
  id TEXT PRIMARY KEY,
  unit_id TEXT NOT NULL REFERENCES unit (id),
  serial TEXT REFERENCES certificate (serial),
  at INTEGER NOT NULL,
  meter TEXT NOT NULL CHECK (length(meter) BETWEEN 1 AND 300),
  readings TEXT NOT NULL CHECK (json_valid(readings)),
  note TEXT NOT NULL CHECK (length(note) <= 600)
) STRICT;
CREATE INDEX home_report_by_unit ON home_report (unit_id, at);
