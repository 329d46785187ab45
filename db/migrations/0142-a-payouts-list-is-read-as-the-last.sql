-- A card processor's list of sales is remembered as a bank's file is: who took the payments, and whose share the fees came out of.
ALTER TABLE bank_layout ADD COLUMN processor TEXT NOT NULL DEFAULT '' CHECK (length(processor) <= 100);
ALTER TABLE bank_layout ADD COLUMN bearer TEXT NOT NULL DEFAULT '' CHECK (bearer IN ('', 'seller', 'cause', 'postage'));
