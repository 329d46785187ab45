-- Invoices, credit notes and corrected invoices as they were issued: numbered without gaps, never changed, never removed.
CREATE TABLE invoice_document (
  number INTEGER PRIMARY KEY CHECK (number >= 1),
  kind TEXT NOT NULL CHECK (kind IN ('invoice', 'credit note', 'corrected invoice')),
  about INTEGER REFERENCES invoice_document (number),
  person_id TEXT NOT NULL REFERENCES person (id),
  issued_at INTEGER NOT NULL,
  issued_by_person_id TEXT REFERENCES person (id),
  content TEXT NOT NULL CHECK (json_valid(content)),
  CHECK ((kind = 'invoice') = (about IS NULL)),
  CHECK (about IS NULL OR about < number)
) STRICT;
CREATE INDEX invoice_document_of_a_buyer ON invoice_document (person_id);
CREATE TRIGGER invoice_document_has_the_next_number BEFORE INSERT ON invoice_document
  WHEN NEW.number <> (SELECT coalesce(max(number), 0) + 1 FROM invoice_document)
  BEGIN SELECT RAISE(ABORT, 'invoices are numbered without gaps'); END;
CREATE TRIGGER invoice_document_is_never_changed BEFORE UPDATE ON invoice_document BEGIN SELECT RAISE(ABORT, 'an invoice is never changed'); END;
CREATE TRIGGER invoice_document_is_never_removed BEFORE DELETE ON invoice_document BEGIN SELECT RAISE(ABORT, 'an invoice is never removed'); END;

-- The sheet of each, as it was set once: its bytes in base64, and their SHA-256.
CREATE TABLE invoice_paper (
  number INTEGER PRIMARY KEY REFERENCES invoice_document (number),
  at INTEGER NOT NULL,
  sha256 TEXT NOT NULL CHECK (length(sha256) = 64),
  pdf TEXT NOT NULL CHECK (length(pdf) > 0)
) STRICT;
CREATE TRIGGER invoice_paper_is_never_changed BEFORE UPDATE ON invoice_paper BEGIN SELECT RAISE(ABORT, 'an invoice is never changed'); END;
CREATE TRIGGER invoice_paper_is_never_removed BEFORE DELETE ON invoice_paper BEGIN SELECT RAISE(ABORT, 'an invoice is never removed'); END;

-- Contracts that one buyer pays together are paid under one reference.
CREATE TABLE joint_reference (
  entry_id TEXT PRIMARY KEY REFERENCES entry (id),
  reference TEXT NOT NULL CHECK (length(reference) BETWEEN 5 AND 25)
) STRICT;
CREATE TRIGGER joint_reference_is_never_changed BEFORE UPDATE ON joint_reference BEGIN SELECT RAISE(ABORT, 'a reference that is out stays'); END;

-- What an invoice says of tax, as the maker sets it.
ALTER TABLE payment_terms ADD COLUMN tax_scheme TEXT NOT NULL DEFAULT 'none' CHECK (tax_scheme IN ('none', 'rate', 'margin'));
ALTER TABLE payment_terms ADD COLUMN tax_rate_bp INTEGER NOT NULL DEFAULT 0 CHECK (tax_rate_bp BETWEEN 0 AND 5000);
ALTER TABLE payment_terms ADD COLUMN tax_number TEXT NOT NULL DEFAULT '' CHECK (length(tax_number) <= 40);
ALTER TABLE payment_terms ADD COLUMN tax_words TEXT NOT NULL DEFAULT '' CHECK (length(tax_words) <= 300);
