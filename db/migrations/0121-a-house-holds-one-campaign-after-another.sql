-- A house goes on from one campaign to the next. The present one has not ended; earlier ones answer at an address of their own.
ALTER TABLE campaign ADD COLUMN number INTEGER NOT NULL DEFAULT 1 CHECK (number BETWEEN 1 AND 1000);
ALTER TABLE campaign ADD COLUMN slug TEXT NOT NULL DEFAULT '' CHECK (length(slug) <= 60);
ALTER TABLE campaign ADD COLUMN begun_at INTEGER;
ALTER TABLE campaign ADD COLUMN ended_at INTEGER;
CREATE UNIQUE INDEX campaign_by_number ON campaign (number);
CREATE UNIQUE INDEX campaign_by_slug ON campaign (slug) WHERE slug <> '';
CREATE UNIQUE INDEX campaign_at_present ON campaign (ended_at IS NULL) WHERE ended_at IS NULL;

-- What belongs to one campaign says to which. All that stood before belonged to the first.
ALTER TABLE lot ADD COLUMN campaign_number INTEGER NOT NULL DEFAULT 1;
ALTER TABLE entry ADD COLUMN campaign_number INTEGER NOT NULL DEFAULT 1;
ALTER TABLE programme_item ADD COLUMN campaign_number INTEGER NOT NULL DEFAULT 1;
ALTER TABLE match_promise ADD COLUMN campaign_number INTEGER NOT NULL DEFAULT 1;
CREATE INDEX lot_by_campaign ON lot (campaign_number, number);
CREATE INDEX entry_by_campaign ON entry (campaign_number, seq);

-- Terms were one row for the house; now a row for each campaign, by its number.
CREATE TABLE sale_rule_of (
  id INTEGER PRIMARY KEY CHECK (id BETWEEN 1 AND 1000),
  ladder TEXT NOT NULL CHECK (json_valid(ladder))
) STRICT;
INSERT INTO sale_rule_of SELECT id, ladder FROM sale_rule;
DROP TABLE sale_rule;
ALTER TABLE sale_rule_of RENAME TO sale_rule;

CREATE TABLE keeping_terms_of (
  id INTEGER PRIMARY KEY CHECK (id BETWEEN 1 AND 1000),
  contact_days INTEGER NOT NULL CHECK (contact_days BETWEEN 0 AND 3650)
) STRICT;
INSERT INTO keeping_terms_of SELECT id, contact_days FROM keeping_terms;
DROP TABLE keeping_terms;
ALTER TABLE keeping_terms_of RENAME TO keeping_terms;

CREATE TABLE payment_terms_of (
  id INTEGER PRIMARY KEY CHECK (id BETWEEN 1 AND 1000),
  account_name TEXT NOT NULL CHECK (length(account_name) <= 70),
  iban TEXT NOT NULL CHECK (length(iban) = 0 OR length(iban) BETWEEN 15 AND 34),
  bic TEXT NOT NULL CHECK (length(bic) IN (0, 8, 11)),
  due_days INTEGER NOT NULL CHECK (due_days BETWEEN 1 AND 60),
  reminder_days TEXT NOT NULL CHECK (json_valid(reminder_days)),
  reminders_alone INTEGER NOT NULL CHECK (reminders_alone IN (0, 1)),
  offer_after_days INTEGER NOT NULL CHECK (offer_after_days BETWEEN 1 AND 90),
  offer_open_days INTEGER NOT NULL CHECK (offer_open_days BETWEEN 1 AND 30),
  tax_scheme TEXT NOT NULL DEFAULT 'none' CHECK (tax_scheme IN ('none', 'rate', 'margin')),
  tax_rate_bp INTEGER NOT NULL DEFAULT 0 CHECK (tax_rate_bp BETWEEN 0 AND 5000),
  tax_number TEXT NOT NULL DEFAULT '' CHECK (length(tax_number) <= 40),
  tax_words TEXT NOT NULL DEFAULT '' CHECK (length(tax_words) <= 300)
) STRICT;
INSERT INTO payment_terms_of SELECT id, account_name, iban, bic, due_days, reminder_days, reminders_alone, offer_after_days,
  offer_open_days, tax_scheme, tax_rate_bp, tax_number, tax_words FROM payment_terms;
DROP TABLE payment_terms;
ALTER TABLE payment_terms_of RENAME TO payment_terms;

CREATE TABLE sending_terms_of (
  id INTEGER PRIMARY KEY CHECK (id BETWEEN 1 AND 1000),
  home_country TEXT NOT NULL CHECK (length(home_country) = 2),
  volumetric_divisor INTEGER NOT NULL CHECK (volumetric_divisor BETWEEN 1000 AND 10000),
  answer_hours INTEGER NOT NULL CHECK (answer_hours BETWEEN 1 AND 720),
  addresses_kept_days INTEGER NOT NULL CHECK (addresses_kept_days BETWEEN 14 AND 3650)
) STRICT;
INSERT INTO sending_terms_of SELECT id, home_country, volumetric_divisor, answer_hours, addresses_kept_days FROM sending_terms;
DROP TABLE sending_terms;
ALTER TABLE sending_terms_of RENAME TO sending_terms;

CREATE TABLE postage_band_of (
  campaign_number INTEGER NOT NULL DEFAULT 1,
  seq INTEGER NOT NULL,
  zone TEXT NOT NULL CHECK (length(zone) BETWEEN 1 AND 80),
  countries TEXT NOT NULL CHECK (json_valid(countries)),
  up_to_grams INTEGER NOT NULL CHECK (up_to_grams BETWEEN 1 AND 1000000),
  amount_minor INTEGER NOT NULL CHECK (amount_minor BETWEEN 0 AND 100000000000),
  PRIMARY KEY (campaign_number, seq)
) STRICT;
INSERT INTO postage_band_of SELECT 1, seq, zone, countries, up_to_grams, amount_minor FROM postage_band;
DROP TABLE postage_band;
ALTER TABLE postage_band_of RENAME TO postage_band;

-- Each donor is told once in each campaign what everything has become.
CREATE TABLE last_letter_of (
  donor_id TEXT NOT NULL REFERENCES donor (id),
  campaign_number INTEGER NOT NULL DEFAULT 1,
  at INTEGER NOT NULL,
  by_person_id TEXT REFERENCES person (id) ON DELETE SET NULL,
  PRIMARY KEY (donor_id, campaign_number)
) STRICT;
INSERT INTO last_letter_of SELECT donor_id, 1, at, by_person_id FROM last_letter;
DROP TABLE last_letter;
ALTER TABLE last_letter_of RENAME TO last_letter;

ALTER TABLE contact_deletion ADD COLUMN campaign_number INTEGER NOT NULL DEFAULT 1;
