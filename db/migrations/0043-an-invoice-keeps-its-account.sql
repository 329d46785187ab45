-- The account on an invoice that was out when the house took another one: it is paid into where it says.
CREATE TABLE invoice_account (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  person_id TEXT NOT NULL REFERENCES person (id) ON DELETE CASCADE,
  account_name TEXT NOT NULL CHECK (length(account_name) <= 70),
  iban TEXT NOT NULL CHECK (length(iban) BETWEEN 15 AND 34),
  bic TEXT NOT NULL CHECK (length(bic) IN (0, 8, 11)),
  PRIMARY KEY (lot_id, person_id)
) STRICT;
CREATE TRIGGER invoice_account_is_never_changed BEFORE UPDATE ON invoice_account BEGIN SELECT RAISE(ABORT, 'an invoice keeps its account'); END;
