CREATE TABLE campaign (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  cause_name TEXT NOT NULL DEFAULT '',
  cause_registration TEXT NOT NULL DEFAULT '',
  cause_share_bp INTEGER NOT NULL DEFAULT 10000 CHECK (cause_share_bp BETWEEN 0 AND 10000),
  seller_name TEXT NOT NULL DEFAULT '',
  seller_address TEXT NOT NULL DEFAULT '',
  seller_kind TEXT NOT NULL DEFAULT '' CHECK (seller_kind IN ('', 'private', 'trader', 'charity')),
  currency TEXT NOT NULL CHECK (length(currency) = 3),
  zone TEXT NOT NULL,
  stream_opens_at INTEGER NOT NULL,
  stream_closes_at INTEGER NOT NULL,
  target_minor INTEGER NOT NULL CHECK (target_minor BETWEEN 0 AND 9007199254740991),
  how_to_pay TEXT NOT NULL DEFAULT '',
  cancel_words TEXT NOT NULL DEFAULT '',
  parts_address TEXT NOT NULL DEFAULT '',
  is_demo INTEGER NOT NULL DEFAULT 0 CHECK (is_demo IN (0, 1)),
  CHECK (stream_closes_at > stream_opens_at)
) STRICT;

CREATE TABLE person (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  email TEXT NOT NULL UNIQUE,
  email_verified INTEGER NOT NULL DEFAULT 0 CHECK (email_verified IN (0, 1)),
  image TEXT,
  role TEXT NOT NULL DEFAULT 'bidder' CHECK (role IN ('maker', 'volunteer', 'treasurer', 'host', 'bidder')),
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL
) STRICT;

CREATE TABLE session (
  id TEXT PRIMARY KEY,
  token TEXT NOT NULL UNIQUE,
  person_id TEXT NOT NULL REFERENCES person (id) ON DELETE CASCADE,
  expires_at INTEGER NOT NULL,
  ip_address TEXT,
  user_agent TEXT,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL
) STRICT;
CREATE INDEX session_by_person ON session (person_id);

CREATE TABLE account (
  id TEXT PRIMARY KEY,
  account_id TEXT NOT NULL,
  provider_id TEXT NOT NULL,
  person_id TEXT NOT NULL REFERENCES person (id) ON DELETE CASCADE,
  access_token TEXT,
  refresh_token TEXT,
  id_token TEXT,
  access_token_expires_at INTEGER,
  refresh_token_expires_at INTEGER,
  scope TEXT,
  password TEXT,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL
) STRICT;
CREATE INDEX account_by_person ON account (person_id);

CREATE TABLE verification (
  id TEXT PRIMARY KEY,
  identifier TEXT NOT NULL,
  value TEXT NOT NULL,
  expires_at INTEGER NOT NULL,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL
) STRICT;
CREATE INDEX verification_by_identifier ON verification (identifier);

-- Which browser asked for a code: a code is worth nothing in another one.
CREATE TABLE code_request (
  id TEXT PRIMARY KEY,
  email TEXT NOT NULL,
  browser_hash TEXT NOT NULL,
  at INTEGER NOT NULL
) STRICT;
CREATE INDEX code_request_by_email ON code_request (email, at);

-- One-time links that make the first maker.
CREATE TABLE first_link (
  token_hash TEXT PRIMARY KEY,
  made_at INTEGER NOT NULL,
  used_at INTEGER
) STRICT;

CREATE TABLE paddle (
  person_id TEXT PRIMARY KEY REFERENCES person (id) ON DELETE CASCADE,
  number INTEGER NOT NULL UNIQUE CHECK (number > 0),
  country TEXT NOT NULL CHECK (length(country) = 2),
  ceiling_minor INTEGER NOT NULL CHECK (ceiling_minor BETWEEN 0 AND 9007199254740991),
  rules_accepted_at INTEGER NOT NULL
) STRICT;

CREATE TABLE photograph (
  sha TEXT PRIMARY KEY CHECK (length(sha) = 64),
  width INTEGER NOT NULL CHECK (width > 0),
  height INTEGER NOT NULL CHECK (height > 0),
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL
) STRICT;

CREATE TABLE fact (
  seq INTEGER PRIMARY KEY AUTOINCREMENT,
  at INTEGER NOT NULL,
  kind TEXT NOT NULL,
  subject TEXT NOT NULL,
  body TEXT NOT NULL CHECK (json_valid(body))
) STRICT;
CREATE INDEX fact_by_subject ON fact (subject, seq);

CREATE TABLE letter (
  id TEXT PRIMARY KEY,
  at INTEGER NOT NULL,
  recipient TEXT NOT NULL,
  subject TEXT NOT NULL,
  body TEXT NOT NULL,
  sent_at INTEGER,
  tries INTEGER NOT NULL DEFAULT 0,
  next_try_at INTEGER NOT NULL,
  last_error TEXT
) STRICT;
CREATE INDEX letter_waiting ON letter (next_try_at) WHERE sent_at IS NULL;

CREATE TABLE request (
  key TEXT PRIMARY KEY,
  digest TEXT NOT NULL,
  answer TEXT NOT NULL CHECK (json_valid(answer)),
  at INTEGER NOT NULL
) STRICT;

-- The second at which the process last noted that it was alive; one row.
CREATE TABLE alive (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  at INTEGER NOT NULL
) STRICT;
