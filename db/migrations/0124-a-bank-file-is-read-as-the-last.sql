-- How the files of one bank's account are read, as a person said it: known again by its headings and its account.
CREATE TABLE bank_layout (
  id TEXT PRIMARY KEY,
  -- JSON: each heading as the bank writes it, from the left.
  headings TEXT NOT NULL CHECK (length(headings) <= 8000),
  -- Which account a file says that it is of; empty where it says none.
  account TEXT NOT NULL CHECK (length(account) <= 70),
  -- JSON: what each column is taken for, what separates them, the order of the day and what a minus means.
  choice TEXT NOT NULL CHECK (length(choice) <= 8000),
  file TEXT NOT NULL CHECK (length(file) <= 200),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  UNIQUE (headings, account)
) STRICT;
