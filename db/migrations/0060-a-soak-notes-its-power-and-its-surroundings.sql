-- What was noted while a soak ran: that its power went off or came on again, the temperature, the supply, a remark.
ALTER TABLE soak_run ADD COLUMN notes TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(notes));
