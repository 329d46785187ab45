-- The letter that a reminder to pay went in, and what was owed then: one that still waits when the money has come is withdrawn.
ALTER TABLE payment_reminder ADD COLUMN letter_id TEXT REFERENCES letter (id) ON DELETE SET NULL;
ALTER TABLE payment_reminder ADD COLUMN owed_minor INTEGER CHECK (owed_minor > 0);
