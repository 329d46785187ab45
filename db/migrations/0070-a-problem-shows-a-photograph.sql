-- What a buyer shows of what is wrong.
ALTER TABLE problem_note ADD COLUMN photo_sha TEXT REFERENCES photograph (sha);
