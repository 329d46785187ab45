-- The day's changes are told from the facts: a few kinds among the many that bids and readings leave.
CREATE INDEX fact_by_kind ON fact (kind, seq);
