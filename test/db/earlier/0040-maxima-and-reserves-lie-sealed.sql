-- Maxima and reserves lie sealed: what stands in a column called `sealed…` opens with a key that is kept beside the
-- database, and only in the row that it was sealed for. In a pack they stand opened, as `maximum_minor` and `nonce` of a
-- bid, `reserve_minor` and `reserve_nonce` of a lot, `maximum_minor` of a link and `cap_minor` of a chain.

-- By which key, so that a house that has lost it says so at its start.
CREATE TABLE sealed_by (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  key_digest TEXT NOT NULL CHECK (length(key_digest) = 64)
) STRICT;

-- Rows that refer to each other are written anew here; when all is done they must fit again.
PRAGMA defer_foreign_keys = ON;

-- The maximum and the random bytes behind its commitment; neither stands in `answer`, which has a place for each.
CREATE TABLE sealed_bid (
  id TEXT PRIMARY KEY CHECK (length(id) BETWEEN 16 AND 64),
  lot_id TEXT NOT NULL REFERENCES lot (id),
  sequence INTEGER NOT NULL CHECK (sequence > 0),
  person_id TEXT NOT NULL REFERENCES person (id),
  alias TEXT NOT NULL,
  sealed TEXT NOT NULL CHECK (length(sealed) = 88),
  at INTEGER NOT NULL,
  answer TEXT NOT NULL CHECK (json_valid(answer)),
  UNIQUE (lot_id, sequence)
) STRICT;
INSERT INTO sealed_bid (id, lot_id, sequence, person_id, alias, sealed, at, answer)
SELECT
  bid.id, bid.lot_id, bid.sequence, bid.person_id, bid.alias,
  seal_figure('bid of lot ' || lot.number || ' sequence ' || bid.sequence, bid.maximum_minor, bid.nonce),
  bid.at, json_remove(bid.answer, '$.maximumMinor', '$.receipt.opening')
FROM bid JOIN lot ON lot.id = bid.lot_id
ORDER BY bid.rowid;
DROP TABLE bid;
ALTER TABLE sealed_bid RENAME TO bid;
CREATE INDEX bid_of_a_person ON bid (person_id, lot_id);

CREATE TABLE sealed_link (
  chain_id TEXT NOT NULL REFERENCES chain (id),
  place INTEGER NOT NULL CHECK (place BETWEEN 1 AND 12),
  lot_id TEXT NOT NULL REFERENCES lot (id),
  sealed TEXT NOT NULL CHECK (length(sealed) = 46),
  phase TEXT NOT NULL DEFAULT 'waiting' CHECK (phase IN ('waiting', 'awake', 'won', 'lost', 'lapsed')),
  why TEXT CHECK (length(why) <= 300),
  woke_at INTEGER,
  hammer_minor INTEGER,
  PRIMARY KEY (chain_id, place),
  UNIQUE (chain_id, lot_id),
  CHECK ((phase = 'lapsed') = (why IS NOT NULL)),
  CHECK ((phase = 'won') = (hammer_minor IS NOT NULL))
) STRICT;
INSERT INTO sealed_link (chain_id, place, lot_id, sealed, phase, why, woke_at, hammer_minor)
SELECT
  link.chain_id, link.place, link.lot_id,
  seal_figure('either-or ' || link.chain_id || ' place ' || link.place || ' lot ' || lot.number, link.maximum_minor, ''),
  link.phase, link.why, link.woke_at, link.hammer_minor
FROM chain_link AS link JOIN lot ON lot.id = link.lot_id
ORDER BY link.rowid;
DROP TABLE chain_link;
ALTER TABLE sealed_link RENAME TO chain_link;
CREATE INDEX chain_link_in_play ON chain_link (lot_id) WHERE phase IN ('waiting', 'awake');

ALTER TABLE chain ADD COLUMN sealed_cap TEXT CHECK (length(sealed_cap) = 46);
UPDATE chain SET sealed_cap = seal_figure('either-or ' || id || ' cap', cap_minor, '') WHERE cap_minor IS NOT NULL;
ALTER TABLE chain DROP COLUMN cap_minor;

-- What a lot keeps of the bidding names the bids of the two who stand first; their maxima are sealed there. The reserve and
-- the random bytes behind its commitment stand in the lot, and nowhere else.
CREATE TABLE lot_before AS
SELECT
  lot.*,
  coalesce(reserve_secret.amount_minor, lot.terms ->> '$.reserveMinor', lot.reserve_minor) AS its_reserve,
  coalesce(reserve_secret.nonce, lower(hex(randomblob(32)))) AS its_nonce
FROM lot LEFT JOIN reserve_secret ON reserve_secret.lot_id = lot.id;
DROP TABLE reserve_secret;
DROP TABLE lot;
CREATE TABLE lot (
  id TEXT PRIMARY KEY,
  number INTEGER NOT NULL UNIQUE CHECK (number > 0),
  unit_id TEXT NOT NULL REFERENCES unit (id),
  unit_tag TEXT NOT NULL,
  title TEXT NOT NULL DEFAULT '' CHECK (length(title) <= 120),
  story TEXT NOT NULL DEFAULT '' CHECK (length(story) <= 6000),
  opening_minor INTEGER CHECK (opening_minor BETWEEN 1 AND 100000000000),
  reserve_decided INTEGER NOT NULL DEFAULT 0 CHECK (reserve_decided IN (0, 1)),
  sealed_reserve TEXT CHECK (length(sealed_reserve) = 88),
  low_minor INTEGER CHECK (low_minor BETWEEN 0 AND 100000000000),
  likely_minor INTEGER CHECK (likely_minor BETWEEN 0 AND 100000000000),
  high_minor INTEGER CHECK (high_minor BETWEEN 0 AND 100000000000),
  weight_grams INTEGER CHECK (weight_grams BETWEEN 1 AND 1000000),
  length_mm INTEGER CHECK (length_mm BETWEEN 1 AND 10000),
  width_mm INTEGER CHECK (width_mm BETWEEN 1 AND 10000),
  height_mm INTEGER CHECK (height_mm BETWEEN 1 AND 10000),
  sold_where TEXT NOT NULL DEFAULT 'here' CHECK (sold_where IN ('here', 'elsewhere')),
  elsewhere_url TEXT,
  priced_by_person_id TEXT REFERENCES person (id),
  state TEXT NOT NULL DEFAULT 'draft' CHECK (state IN ('draft', 'ready', 'open', 'held', 'sold', 'unsold', 'withdrawn')),
  closes_at INTEGER,
  opened_at INTEGER,
  terms TEXT CHECK (terms IS NULL OR json_valid(terms)),
  held_since INTEGER,
  held_reason TEXT,
  held_with_all INTEGER NOT NULL DEFAULT 0 CHECK (held_with_all IN (0, 1)),
  ended_at INTEGER,
  end_reason TEXT,
  hammer_minor INTEGER CHECK (hammer_minor BETWEEN 0 AND 100000000000),
  winner_person_id TEXT REFERENCES person (id),
  leader_alias TEXT,
  leader_person_id TEXT REFERENCES person (id),
  leader_sequence INTEGER,
  second_alias TEXT,
  second_sequence INTEGER,
  standing_minor INTEGER,
  bids INTEGER NOT NULL DEFAULT 0 CHECK (bids >= 0),
  sequence INTEGER NOT NULL DEFAULT 0 CHECK (sequence >= 0),
  extensions INTEGER NOT NULL DEFAULT 0 CHECK (extensions >= 0),
  ledger_size INTEGER NOT NULL DEFAULT 0 CHECK (ledger_size >= 0),
  ledger_peaks TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(ledger_peaks)),
  head_hash TEXT,
  ladder TEXT CHECK (ladder IS NULL OR json_valid(ladder)),
  corrections TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(corrections)),
  result_source TEXT CHECK (length(result_source) <= 300),
  CHECK ((state = 'held') = (held_since IS NOT NULL)),
  CHECK (reserve_decided = 1 OR sealed_reserve IS NULL),
  CHECK (state IN ('draft', 'ready') OR ended_at IS NOT NULL OR (terms IS NOT NULL AND closes_at IS NOT NULL)),
  CHECK ((leader_alias IS NULL) = (standing_minor IS NULL))
) STRICT;
INSERT INTO lot
SELECT
  id, number, unit_id, unit_tag, title, story, opening_minor, reserve_decided,
  CASE WHEN its_reserve IS NULL THEN NULL ELSE seal_figure('reserve of lot ' || number || ' sequence 0', its_reserve, its_nonce) END,
  low_minor, likely_minor, high_minor, weight_grams, length_mm, width_mm, height_mm, sold_where, elsewhere_url,
  priced_by_person_id, state, closes_at, opened_at, json_remove(terms, '$.reserveMinor'), held_since, held_reason, held_with_all,
  ended_at, end_reason, hammer_minor, winner_person_id, leader_alias, leader_person_id, leader_sequence, second_alias,
  second_sequence, standing_minor, bids, sequence, extensions, ledger_size, ledger_peaks, head_hash, ladder, corrections,
  result_source
FROM lot_before;
DROP TABLE lot_before;
CREATE INDEX lot_due ON lot (closes_at) WHERE state = 'open';
CREATE UNIQUE INDEX lot_one_for_a_unit ON lot (unit_id) WHERE state NOT IN ('unsold', 'withdrawn');
CREATE INDEX lot_next_due ON lot (closes_at, number, state, sold_where) WHERE state = 'open' AND sold_where = 'here' AND closes_at IS NOT NULL;

-- Answers kept for forms that are sent twice hold maxima too, and a plain digest of a form lets them be guessed.
UPDATE request SET answer = seal_answer(key, answer), digest = keyed_digest(key, digest);

-- The file is written anew once, so that what lay open stands in no free page of it.
PRAGMA user_version = 1;
