-- What stands of a lot's price where that is no longer what the hammer fell at: nought once the sale fell through.
ALTER TABLE lot ADD COLUMN stands_minor INTEGER CHECK (stands_minor >= 0);
UPDATE lot SET stands_minor = (
  SELECT max(0, -coalesce(sum(posting.amount_minor), 0))
  FROM entry JOIN posting ON posting.entry_id = entry.id
  WHERE entry.lot_id = lot.id
    AND entry.kind IN ('hammer', 'resale', 'reversal', 'reduction')
    AND posting.account IN ('owed-to-cause', 'kept-by-seller')
)
WHERE state = 'sold' AND EXISTS (SELECT 1 FROM entry WHERE entry.lot_id = lot.id AND entry.kind IN ('resale', 'reversal', 'reduction'));
UPDATE lot SET stands_minor = NULL WHERE stands_minor = hammer_minor;
-- What became of a machine that nobody bought in the end; empty while that is open.
ALTER TABLE lot ADD COLUMN afterwards TEXT NOT NULL DEFAULT '' CHECK (afterwards IN ('', 'kept', 'given'));
-- A machine whose sale fell through may be in another lot.
DROP INDEX lot_one_for_a_unit;
CREATE UNIQUE INDEX lot_one_for_a_unit ON lot (unit_id)
  WHERE state NOT IN ('unsold', 'withdrawn') AND (state <> 'sold' OR stands_minor IS NULL OR stands_minor > 0);
-- What a donor was told that a lot came to; null where that was what the hammer fell at.
ALTER TABLE thanks_told ADD COLUMN told_minor INTEGER CHECK (told_minor >= 0);
