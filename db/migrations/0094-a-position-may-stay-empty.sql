-- Positions that a parts list names and that stay empty: shown to whoever looks at the board, and never fitted, counted or asked for.
CREATE TABLE left_empty (
  design_id TEXT NOT NULL REFERENCES design (id) ON DELETE CASCADE,
  designator TEXT NOT NULL CHECK (length(designator) BETWEEN 2 AND 20),
  line INTEGER NOT NULL CHECK (line > 0),
  part_id TEXT NOT NULL REFERENCES part (id),
  blocks TEXT NOT NULL CHECK (json_valid(blocks)),
  notes TEXT NOT NULL CHECK (length(notes) <= 300),
  PRIMARY KEY (design_id, designator)
) STRICT;
CREATE INDEX left_empty_by_part ON left_empty (part_id);
