-- Whoever took a reading of a machine may not bid on it: asked at every bid, and a machine has hundreds of readings.
CREATE INDEX reading_by_person ON reading (unit_id, by_person_id);
