-- What kind a stage is, which checks power waits for, which hold points another person than the reader must release, and at what
-- frequency something is measured, are said by the checklist. Those of before as they were taken by the English name of their stage.
ALTER TABLE check_step ADD COLUMN stage_kind TEXT NOT NULL DEFAULT 'other' CHECK (stage_kind IN ('visual', 'cold', 'rails', 'close-out', 'other'));
ALTER TABLE check_step ADD COLUMN gates_power INTEGER NOT NULL DEFAULT 0 CHECK (gates_power IN (0, 1));
ALTER TABLE check_step ADD COLUMN four_eyes INTEGER NOT NULL DEFAULT 0 CHECK (four_eyes IN (0, 1));
ALTER TABLE check_step ADD COLUMN frequency REAL CHECK (frequency > 0);
UPDATE check_step SET stage_kind = CASE lower(trim(stage))
  WHEN 'visual' THEN 'visual'
  WHEN 'cold' THEN 'cold'
  WHEN 'rail' THEN 'rails'
  WHEN 'rails' THEN 'rails'
  WHEN 'close-out' THEN 'close-out'
  WHEN 'close out' THEN 'close-out'
  WHEN 'closeout' THEN 'close-out'
  ELSE 'other'
END;
UPDATE check_step SET gates_power = 1 WHERE stage_kind = 'cold' OR (hold = 1 AND kind = 'measure');
