-- How buyers pay, and what happens when they do not: one row.
CREATE TABLE payment_terms (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  account_name TEXT NOT NULL CHECK (length(account_name) <= 70),
  iban TEXT NOT NULL CHECK (length(iban) = 0 OR length(iban) BETWEEN 15 AND 34),
  bic TEXT NOT NULL CHECK (length(bic) IN (0, 8, 11)),
  due_days INTEGER NOT NULL CHECK (due_days BETWEEN 1 AND 60),
  reminder_days TEXT NOT NULL CHECK (json_valid(reminder_days)),
  reminders_alone INTEGER NOT NULL CHECK (reminders_alone IN (0, 1)),
  offer_after_days INTEGER NOT NULL CHECK (offer_after_days BETWEEN 1 AND 90),
  offer_open_days INTEGER NOT NULL CHECK (offer_open_days BETWEEN 1 AND 30)
) STRICT;

-- A reminder that went out, as it was read.
CREATE TABLE payment_reminder (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  person_id TEXT NOT NULL REFERENCES person (id) ON DELETE CASCADE,
  step INTEGER NOT NULL CHECK (step BETWEEN 1 AND 5),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  subject TEXT NOT NULL,
  body TEXT NOT NULL,
  PRIMARY KEY (lot_id, person_id, step)
) STRICT;

-- The lot of a sale that fell through, offered to whoever came next, at their own highest bid, as a contract of its own.
CREATE TABLE second_offer (
  id TEXT PRIMARY KEY,
  lot_id TEXT NOT NULL REFERENCES lot (id),
  person_id TEXT NOT NULL REFERENCES person (id) ON DELETE CASCADE,
  price_minor INTEGER NOT NULL CHECK (price_minor BETWEEN 1 AND 100000000000),
  postage_minor INTEGER NOT NULL CHECK (postage_minor BETWEEN 0 AND 100000000000),
  terms TEXT NOT NULL CHECK (json_valid(terms)),
  made_at INTEGER NOT NULL,
  made_by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  open_until INTEGER NOT NULL,
  answer TEXT CHECK (answer IN ('accepted', 'declined', 'taken back')),
  answered_at INTEGER,
  CHECK ((answer IS NULL) = (answered_at IS NULL))
) STRICT;
CREATE UNIQUE INDEX one_open_offer ON second_offer (lot_id) WHERE answer IS NULL;
CREATE UNIQUE INDEX one_offer_each ON second_offer (lot_id, person_id);
