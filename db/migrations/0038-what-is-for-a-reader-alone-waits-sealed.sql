-- What of a letter is for its reader alone waits sealed until the letter has gone; its text never holds it.
ALTER TABLE letter ADD COLUMN sealed_words TEXT;
UPDATE letter
SET body = substr(body, 1, instr(body, 'your maximum of ') + 15) || '‹shown to its reader alone›' || substr(body, instr(body, ' stands here. '))
WHERE instr(body, 'your maximum of ') > 0 AND instr(body, ' stands here. ') > instr(body, 'your maximum of ');
