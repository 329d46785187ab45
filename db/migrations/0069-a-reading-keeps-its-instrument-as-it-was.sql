-- The instrument of a reading as it was then: name, accuracy, when it was checked and when that was due again. Those of earlier
-- readings as they were told when the instrument was written down or changed; where that was not kept, as it is now.
ALTER TABLE reading ADD COLUMN instrument_then TEXT CHECK (json_valid(instrument_then));
UPDATE reading SET instrument_then = coalesce(
  (SELECT json_object('name', fact.body ->> 'name', 'accuracy', fact.body ->> 'accuracy', 'checkedAt', fact.body ->> 'checkedAt', 'dueAt', fact.body ->> 'dueAt')
   FROM fact
   WHERE fact.kind IN ('instrument.added', 'instrument.changed') AND fact.body ->> 'id' = reading.instrument_id AND fact.at <= reading.at
   ORDER BY fact.seq DESC LIMIT 1),
  (SELECT json_object('name', name, 'accuracy', accuracy, 'checkedAt', checked_at, 'dueAt', due_at) FROM instrument WHERE id = reading.instrument_id)
) WHERE instrument_id IS NOT NULL;
