-- When whoever is signed in last proved again who they are; null: not since the session was opened.
ALTER TABLE session ADD COLUMN confirmed_at INTEGER;

-- Kept by the sign-in library: the public half of a key that stays in somebody's device, one row for each.
CREATE TABLE passkey (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 80),
  public_key TEXT NOT NULL,
  person_id TEXT NOT NULL REFERENCES person (id) ON DELETE CASCADE,
  -- Two accounts never share a key: what one signs with it would speak for the other.
  credential_id TEXT NOT NULL UNIQUE,
  counter INTEGER NOT NULL CHECK (counter >= 0),
  device_type TEXT NOT NULL,
  backed_up INTEGER NOT NULL CHECK (backed_up IN (0, 1)),
  transports TEXT,
  created_at INTEGER NOT NULL,
  aaguid TEXT
) STRICT;
CREATE INDEX passkey_by_person ON passkey (person_id);

-- The secret that the sessions here are signed with, as a digest: with another one all of them are over.
CREATE TABLE session_secret (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  digest TEXT NOT NULL CHECK (length(digest) = 64)
) STRICT;

-- Since when somebody has had their role; 0 for a bidder, whose role nobody gives.
ALTER TABLE person ADD COLUMN role_given_at INTEGER NOT NULL DEFAULT 0;
UPDATE person SET role_given_at = coalesce(
  (SELECT max(at) FROM fact WHERE kind = 'person.role-given' AND subject = 'person:' || person.id), created_at)
WHERE role <> 'bidder';

-- As what the first of the two asked: their role may be another by the time the second agrees.
ALTER TABLE void_request ADD COLUMN asked_role TEXT NOT NULL DEFAULT 'maker'
  CHECK (asked_role IN ('maker', 'volunteer', 'treasurer', 'host', 'bidder'));
UPDATE void_request SET asked_role = (SELECT role FROM person WHERE person.id = void_request.asked_by);
