-- Beside a bid stands a random alias of its bidder, another one on each lot.
CREATE TABLE alias (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  person_id TEXT NOT NULL REFERENCES person (id),
  alias TEXT NOT NULL,
  voided_at INTEGER,
  PRIMARY KEY (lot_id, person_id),
  UNIQUE (lot_id, alias)
) STRICT;

-- The key is the client's, so that a repeated request has one effect; `answer` is what it was told.
CREATE TABLE bid (
  id TEXT PRIMARY KEY CHECK (length(id) BETWEEN 16 AND 64),
  lot_id TEXT NOT NULL REFERENCES lot (id),
  sequence INTEGER NOT NULL CHECK (sequence > 0),
  person_id TEXT NOT NULL REFERENCES person (id),
  alias TEXT NOT NULL,
  maximum_minor INTEGER NOT NULL CHECK (maximum_minor BETWEEN 1 AND 100000000000),
  at INTEGER NOT NULL,
  nonce TEXT NOT NULL CHECK (length(nonce) = 64),
  answer TEXT NOT NULL CHECK (json_valid(answer)),
  UNIQUE (lot_id, sequence)
) STRICT;
CREATE INDEX bid_of_a_person ON bid (person_id, lot_id);

-- The random bytes behind the commitment to the reserve, kept until it is opened.
CREATE TABLE reserve_secret (
  lot_id TEXT PRIMARY KEY REFERENCES lot (id),
  amount_minor INTEGER NOT NULL,
  nonce TEXT NOT NULL CHECK (length(nonce) = 64)
) STRICT;

CREATE TABLE ledger_leaf (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  position INTEGER NOT NULL CHECK (position >= 0),
  body TEXT NOT NULL CHECK (json_valid(body)),
  PRIMARY KEY (lot_id, position)
) STRICT;

CREATE TABLE ledger_head (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  size INTEGER NOT NULL CHECK (size > 0),
  root TEXT NOT NULL CHECK (length(root) = 64),
  checkpoint TEXT NOT NULL,
  PRIMARY KEY (lot_id, size)
) STRICT;

CREATE TRIGGER ledger_leaf_is_never_changed BEFORE UPDATE ON ledger_leaf BEGIN SELECT RAISE(ABORT, 'a ledger entry is never changed'); END;
CREATE TRIGGER ledger_leaf_is_never_removed BEFORE DELETE ON ledger_leaf BEGIN SELECT RAISE(ABORT, 'a ledger entry is never removed'); END;
CREATE TRIGGER ledger_head_is_never_changed BEFORE UPDATE ON ledger_head BEGIN SELECT RAISE(ABORT, 'a signed head is never changed'); END;
CREATE TRIGGER ledger_head_is_never_removed BEFORE DELETE ON ledger_head BEGIN SELECT RAISE(ABORT, 'a signed head is never removed'); END;

-- One of the staff asks for a bidder's bids to be voided; another one must agree.
CREATE TABLE void_request (
  lot_id TEXT NOT NULL REFERENCES lot (id),
  alias TEXT NOT NULL,
  reason TEXT NOT NULL CHECK (length(reason) BETWEEN 1 AND 300),
  asked_by TEXT NOT NULL REFERENCES person (id),
  at INTEGER NOT NULL,
  PRIMARY KEY (lot_id, alias)
) STRICT;

-- All clocks stopped at once; one row at most has no end.
CREATE TABLE closing_hold (
  id TEXT PRIMARY KEY,
  since INTEGER NOT NULL,
  reason TEXT NOT NULL CHECK (length(reason) BETWEEN 1 AND 300),
  by_person_id TEXT REFERENCES person (id),
  until INTEGER,
  shift_ms INTEGER,
  CHECK ((until IS NULL) = (shift_ms IS NULL))
) STRICT;
CREATE UNIQUE INDEX closing_hold_only_one ON closing_hold ((until IS NULL)) WHERE until IS NULL;
