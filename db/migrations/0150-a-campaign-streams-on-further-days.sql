-- Further stream days of a campaign, after its first: that one stands in the campaign's own columns.
CREATE TABLE stream_day (
  id TEXT PRIMARY KEY,
  campaign_id TEXT NOT NULL REFERENCES campaign (id),
  opens_at INTEGER NOT NULL,
  closes_at INTEGER NOT NULL,
  -- Three days at most, as the first.
  CHECK (closes_at > opens_at AND closes_at - opens_at <= 259200000),
  UNIQUE (campaign_id, opens_at)
) STRICT;
