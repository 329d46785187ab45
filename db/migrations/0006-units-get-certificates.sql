-- What was signed is never changed and never deleted. A certificate ends by a later one or by being withdrawn with a reason.
CREATE TABLE certificate (
  id TEXT PRIMARY KEY,
  serial TEXT NOT NULL UNIQUE CHECK (serial GLOB 'TS-[0-9][0-9][0-9][0-9]-[0-9]*-[0-9A-Z]'),
  unit_id TEXT NOT NULL REFERENCES unit (id),
  issued_at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  kid TEXT NOT NULL,
  payload TEXT NOT NULL,
  protected TEXT NOT NULL,
  signature TEXT NOT NULL CHECK (length(signature) = 86),
  superseded_by TEXT REFERENCES certificate (id) DEFERRABLE INITIALLY DEFERRED,
  withdrawn_at INTEGER,
  withdrawn_reason TEXT CHECK (length(withdrawn_reason) > 0),
  CHECK ((withdrawn_at IS NULL) = (withdrawn_reason IS NULL)),
  CHECK (superseded_by IS NULL OR withdrawn_at IS NULL)
) STRICT;
CREATE INDEX certificate_by_unit ON certificate (unit_id, issued_at);
CREATE UNIQUE INDEX certificate_one_stands_for_a_unit ON certificate (unit_id) WHERE superseded_by IS NULL AND withdrawn_at IS NULL;

CREATE TRIGGER certificate_is_never_changed
BEFORE UPDATE OF id, serial, unit_id, issued_at, by_person_id, kid, payload, protected, signature ON certificate
BEGIN
  SELECT RAISE(ABORT, 'a certificate is never changed');
END;

CREATE TRIGGER certificate_ends_once
BEFORE UPDATE ON certificate WHEN OLD.superseded_by IS NOT NULL OR OLD.withdrawn_at IS NOT NULL
BEGIN
  SELECT RAISE(ABORT, 'a certificate ends once');
END;

CREATE TRIGGER certificate_is_never_deleted
BEFORE DELETE ON certificate
BEGIN
  SELECT RAISE(ABORT, 'a certificate is never deleted');
END;
