-- A letter's code waits sealed until the letter has gone, and is deleted then; its text never holds it.
ALTER TABLE letter ADD COLUMN sealed_code TEXT;
DELETE FROM letter WHERE subject = 'Your sign-in code' AND sent_at IS NULL;
UPDATE letter SET body = 'A sign-in code; it has gone by mail and is not kept.' WHERE subject = 'Your sign-in code';
CREATE INDEX letter_with_code ON letter (recipient) WHERE sealed_code IS NOT NULL;

-- What was asked for before is over: each asking keeps a code of its own now, as a keyed digest.
DELETE FROM code_request;
ALTER TABLE code_request ADD COLUMN code_hash TEXT NOT NULL DEFAULT '' CHECK (length(code_hash) = 64);
ALTER TABLE code_request ADD COLUMN guesses INTEGER NOT NULL DEFAULT 0 CHECK (guesses >= 0);
ALTER TABLE code_request ADD COLUMN taken_at INTEGER;
DELETE FROM verification;
