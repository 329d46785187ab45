ALTER TABLE inspection ADD COLUMN photo_sha TEXT REFERENCES photograph (sha);

-- How many of a batch are to be tested and how many bad are allowed: fixed before the first is tested.
CREATE TABLE sampling_plan (
  batch_id TEXT PRIMARY KEY REFERENCES batch (id),
  level TEXT NOT NULL CHECK (level IN ('I', 'II', 'III')),
  aql TEXT NOT NULL,
  sample INTEGER NOT NULL CHECK (sample > 0),
  accept INTEGER NOT NULL CHECK (accept >= 0),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id)
) STRICT;

-- Pieces without tags, tested some at a time, never edited.
CREATE TABLE batch_test (
  id TEXT PRIMARY KEY,
  batch_id TEXT NOT NULL REFERENCES batch (id),
  seq INTEGER NOT NULL CHECK (seq > 0),
  tested INTEGER NOT NULL CHECK (tested > 0),
  bad INTEGER NOT NULL CHECK (bad BETWEEN 0 AND tested),
  reader TEXT NOT NULL CHECK (length(reader) BETWEEN 1 AND 120),
  symptom TEXT NOT NULL DEFAULT '' CHECK (length(symptom) <= 500),
  photo_sha TEXT REFERENCES photograph (sha),
  at INTEGER NOT NULL,
  by_person_id TEXT NOT NULL REFERENCES person (id),
  UNIQUE (batch_id, seq)
) STRICT;

-- Whom to tell of a quarantine or of its end, and whether it was done.
CREATE TABLE quarantine_notice (
  id TEXT PRIMARY KEY,
  batch_id TEXT NOT NULL REFERENCES batch (id),
  about TEXT NOT NULL CHECK (about IN ('quarantined', 'lifted')),
  person_id TEXT REFERENCES person (id),
  donor_id TEXT REFERENCES donor (id),
  unit_id TEXT REFERENCES unit (id),
  reason TEXT NOT NULL CHECK (length(reason) BETWEEN 1 AND 500),
  at INTEGER NOT NULL,
  told_at INTEGER,
  told_how TEXT CHECK (told_how IN ('letter', 'by hand')),
  told_by_person_id TEXT REFERENCES person (id),
  CHECK ((person_id IS NULL) <> (donor_id IS NULL)),
  CHECK ((told_at IS NULL) = (told_how IS NULL) AND (told_at IS NULL) = (told_by_person_id IS NULL))
) STRICT;
CREATE INDEX quarantine_notice_of_batch ON quarantine_notice (batch_id, at);

-- Everything by which a batch is found, in one line of small letters: its code, part, marking and giver.
CREATE TABLE batch_words (
  batch_id TEXT PRIMARY KEY REFERENCES batch (id),
  number INTEGER NOT NULL UNIQUE,
  words TEXT NOT NULL
) STRICT;

CREATE VIEW batch_words_now AS
SELECT batch.id AS batch_id, batch.number AS number,
  lower(batch.code || ' ' || part.name || ' ' || part.kind || ' [' || part.value || '] ' || part.package || ' ' || part.rating || ' '
    || batch.marking || ' ' || batch.date_code || ' ' || coalesce(batch.bought_from, '') || ' ' || coalesce(donor.name, '') || ' '
    || coalesce(donor.credit_name, '')) AS words
FROM batch
JOIN part ON part.id = batch.part_id
LEFT JOIN gift ON gift.id = batch.gift_id
LEFT JOIN donor ON donor.id = gift.donor_id;

INSERT INTO batch_words (batch_id, number, words) SELECT batch_id, number, words FROM batch_words_now;

CREATE TRIGGER batch_words_of_new AFTER INSERT ON batch BEGIN
  INSERT INTO batch_words (batch_id, number, words) SELECT batch_id, number, words FROM batch_words_now WHERE batch_id = new.id;
END;
CREATE TRIGGER batch_words_of_batch AFTER UPDATE OF code, part_id, gift_id, marking, date_code, bought_from ON batch BEGIN
  UPDATE batch_words SET words = (SELECT words FROM batch_words_now WHERE batch_id = new.id) WHERE batch_id = new.id;
END;
CREATE TRIGGER batch_words_of_gift AFTER UPDATE OF donor_id ON gift BEGIN
  UPDATE batch_words SET words = (SELECT words FROM batch_words_now AS now WHERE now.batch_id = batch_words.batch_id)
  WHERE batch_id IN (SELECT id FROM batch WHERE gift_id = new.id);
END;
CREATE TRIGGER batch_words_of_donor AFTER UPDATE OF name, credit_name ON donor BEGIN
  UPDATE batch_words SET words = (SELECT words FROM batch_words_now AS now WHERE now.batch_id = batch_words.batch_id)
  WHERE batch_id IN (SELECT batch.id FROM batch JOIN gift ON gift.id = batch.gift_id WHERE gift.donor_id = new.id);
END;
