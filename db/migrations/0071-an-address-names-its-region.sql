-- The state, province or prefecture of an address, in the countries whose addresses have one.
ALTER TABLE delivery_address ADD COLUMN region TEXT NOT NULL DEFAULT '';
