-- Asked before every bid: by this index alone, without the row of the lot, which holds all its terms.
CREATE INDEX lot_next_due ON lot (closes_at, number, state, sold_where) WHERE state = 'open' AND sold_where = 'here' AND closes_at IS NOT NULL;
DROP INDEX lot_due;
