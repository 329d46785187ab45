-- Whoever gave or bid in an earlier campaign is asked whether they want to be kept for the next. Without an answer they are forgotten.
CREATE TABLE keep_question (
  id TEXT PRIMARY KEY,
  -- The campaign for which they are asked.
  campaign_number INTEGER NOT NULL,
  donor_id TEXT REFERENCES donor (id),
  person_id TEXT REFERENCES person (id),
  -- Of the key in their letter.
  token_hash TEXT NOT NULL UNIQUE CHECK (length(token_hash) = 64),
  asked_at INTEGER NOT NULL,
  answer_by INTEGER NOT NULL CHECK (answer_by > asked_at),
  answer TEXT CHECK (answer IN ('keep', 'forget')),
  answered_at INTEGER,
  forgotten_at INTEGER,
  CHECK ((donor_id IS NULL) <> (person_id IS NULL)),
  CHECK ((answer IS NULL) = (answered_at IS NULL))
) STRICT;
CREATE UNIQUE INDEX keep_question_of_a_donor ON keep_question (campaign_number, donor_id) WHERE donor_id IS NOT NULL;
CREATE UNIQUE INDEX keep_question_of_a_person ON keep_question (campaign_number, person_id) WHERE person_id IS NOT NULL;
