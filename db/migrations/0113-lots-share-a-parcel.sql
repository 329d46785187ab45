-- Lots of one buyer that are sent in one parcel bear the same word here; null for a lot in a parcel of its own.
ALTER TABLE consignment ADD COLUMN parcel TEXT CHECK (length(parcel) BETWEEN 1 AND 80);
-- The weight of the goods without their packing, as the customs ask for it.
ALTER TABLE consignment ADD COLUMN net_grams INTEGER CHECK (net_grams BETWEEN 1 AND 1000000);
