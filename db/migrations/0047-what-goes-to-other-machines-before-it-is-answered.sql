-- Up to which message of the stream this database is, so that every copy of it knows that too.
CREATE TABLE published_group (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  -- When the stream was made: another one begins anew.
  stream TEXT NOT NULL,
  number INTEGER NOT NULL CHECK (number >= 0),
  message_id TEXT NOT NULL,
  -- Since when the house goes on without the others, because a maker said so.
  alone_since INTEGER
) STRICT;

-- What this transaction has changed so far, a row each; empty when it ends.
CREATE TABLE changed_row (
  n INTEGER PRIMARY KEY,
  body TEXT NOT NULL
) STRICT;

-- Sealed messages that the stream has not confirmed yet, or only just.
CREATE TABLE unconfirmed_message (
  number INTEGER PRIMARY KEY,
  message_id TEXT NOT NULL,
  part TEXT NOT NULL,
  body TEXT NOT NULL
) STRICT;
