-- A list of thousands of parts asks for each whether there is an entry made by the earlier rule; there are few, or none.
CREATE INDEX part_from_before ON part (kind) WHERE substr(sameness, 1, 2) <> '2|';
-- A line that is taken out looks for its positions; without this it looked through all of them.
CREATE INDEX position_by_line ON position (line_id);
