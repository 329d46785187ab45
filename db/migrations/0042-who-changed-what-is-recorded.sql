-- Who changed what: a role, a ceiling, an account, terms, the campaign, postage, a key. Whoever did it stands there by the
-- name and the role that they had; nobody, for what the house did by itself.
CREATE TABLE change_record (
  seq INTEGER PRIMARY KEY AUTOINCREMENT,
  at INTEGER NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('role', 'ceiling', 'account', 'terms', 'campaign', 'postage', 'key')),
  by_person_id TEXT,
  by_name TEXT NOT NULL,
  by_role TEXT CHECK (by_role IN ('maker', 'volunteer', 'treasurer', 'host', 'bidder')),
  -- What was changed, as it stands in a sentence: "the role of Oskar Lind".
  what TEXT NOT NULL CHECK (length(what) BETWEEN 1 AND 300),
  -- Both empty where what was changed is secret.
  before TEXT NOT NULL,
  after TEXT NOT NULL,
  CHECK ((by_person_id IS NULL) = (by_role IS NULL))
) STRICT;
CREATE INDEX change_by_kind ON change_record (kind, seq);
CREATE INDEX change_by_person ON change_record (by_person_id, seq);
CREATE TRIGGER change_record_is_never_changed BEFORE UPDATE ON change_record BEGIN SELECT RAISE(ABORT, 'a record of a change is never changed'); END;
CREATE TRIGGER change_record_is_never_removed BEFORE DELETE ON change_record BEGIN SELECT RAISE(ABORT, 'a record of a change is never removed'); END;
