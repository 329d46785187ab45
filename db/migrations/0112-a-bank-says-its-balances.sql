-- The day on which a bank booked a line, apart from the day from which it counts; empty for lines that were read before.
ALTER TABLE bank_line ADD COLUMN booked_on TEXT NOT NULL DEFAULT '' CHECK (length(booked_on) IN (0, 10));
-- The currency of a line that is not in that of the books; empty for all others.
ALTER TABLE bank_line ADD COLUMN currency TEXT NOT NULL DEFAULT '' CHECK (length(currency) IN (0, 3));
-- What a bank says was on the account, entered by hand or read from its file.
CREATE TABLE bank_statement (
  id TEXT PRIMARY KEY,
  account TEXT NOT NULL CHECK (length(account) <= 70),
  opens_on TEXT NOT NULL CHECK (length(opens_on) = 10),
  closes_on TEXT NOT NULL CHECK (length(closes_on) = 10 AND closes_on >= opens_on),
  opening_minor INTEGER NOT NULL,
  closing_minor INTEGER NOT NULL,
  file TEXT NOT NULL CHECK (length(file) <= 200),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  UNIQUE (account, opens_on, closes_on, opening_minor, closing_minor)
) STRICT;
