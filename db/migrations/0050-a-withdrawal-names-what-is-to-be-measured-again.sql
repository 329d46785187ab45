-- What was signed anew after a withdrawal must rest on new readings of what the withdrawal names. `withdrawn_seq` is the
-- place in the order of what happened to the unit: a reading counts as new when it stands behind it. Certificates that were
-- withdrawn before this was kept name nothing.
ALTER TABLE certificate ADD COLUMN withdrawn_checks TEXT CHECK (withdrawn_checks IS NULL OR json_valid(withdrawn_checks));
ALTER TABLE certificate ADD COLUMN withdrawn_seq INTEGER CHECK ((withdrawn_seq IS NULL) = (withdrawn_checks IS NULL));
