CREATE TYPE tax_kind AS ENUM ('standard', 'exempt', 'outside');
CREATE TYPE empty_space AS ENUM ('studio', 'spread'); -- who bears the empty space in a kiln

CREATE TABLE tax_rate (
  id      uuid PRIMARY KEY,
  name    text NOT NULL UNIQUE CHECK (name <> ''),
  kind    tax_kind NOT NULL,
  percent numeric(6, 3) CHECK (percent >= 0 AND percent < 100),
  CHECK ((kind = 'standard') = (percent IS NOT NULL))
);

-- One studio lives in one database: the key can only be 1.
CREATE TABLE studio (
  id                       smallint PRIMARY KEY CHECK (id = 1),
  name                     text NOT NULL CHECK (name <> ''),
  address_lines            text[] NOT NULL,
  email                    text,
  phone                    text,
  vat_number               text CHECK (vat_number <> ''),
  currency                 text NOT NULL CHECK (currency ~ '^[A-Z]{3}$'),
  locale                   text NOT NULL,
  time_zone                text NOT NULL,
  wage_per_hour_minor      integer NOT NULL CHECK (wage_per_hour_minor >= 0),
  overhead_per_hour_minor  integer NOT NULL CHECK (overhead_per_hour_minor >= 0),
  pay_floor_per_hour_minor integer NOT NULL CHECK (pay_floor_per_hour_minor >= 0),
  target_surplus_minor     integer NOT NULL CHECK (target_surplus_minor >= 0),
  poor_at_most             numeric(5, 4) NOT NULL CHECK (poor_at_most > 0 AND poor_at_most < 1),
  price_step_minor         integer NOT NULL CHECK (price_step_minor > 0),
  card_percent             numeric(6, 3) NOT NULL CHECK (card_percent >= 0 AND card_percent < 50),
  card_fixed_minor         integer NOT NULL CHECK (card_fixed_minor >= 0),
  offcuts_percent          numeric(6, 3) NOT NULL CHECK (offcuts_percent BETWEEN 0 AND 200),
  remakes_percent          numeric(6, 3) NOT NULL CHECK (remakes_percent BETWEEN 0 AND 200),
  reclaimed_percent        numeric(6, 3) NOT NULL CHECK (reclaimed_percent BETWEEN 0 AND 100),
  glaze_waste_percent      numeric(6, 3) NOT NULL CHECK (glaze_waste_percent BETWEEN 0 AND 200),
  enrolment_alpha          numeric(8, 3) NOT NULL CHECK (enrolment_alpha > 0),
  enrolment_beta           numeric(8, 3) NOT NULL CHECK (enrolment_beta > 0),
  storage_days             integer NOT NULL CHECK (storage_days BETWEEN 1 AND 3650),
  collect_where            text[] NOT NULL, -- what a collection notice says
  collect_when             text[] NOT NULL,
  after_storage            text NOT NULL CHECK (after_storage <> ''),
  how_to_pay               text NOT NULL CHECK (how_to_pay <> ''),
  invoice_limit_minor      integer NOT NULL CHECK (invoice_limit_minor >= 0),
  empty_space              empty_space NOT NULL,
  firing_tax_rate_id       uuid NOT NULL REFERENCES tax_rate
);

CREATE TABLE refund_policy (
  id                 uuid PRIMARY KEY,
  name               text NOT NULL UNIQUE CHECK (name <> ''),
  refilled_fee_minor integer NOT NULL CHECK (refilled_fee_minor >= 0)
);

CREATE TABLE refund_tier (
  refund_policy_id uuid NOT NULL REFERENCES refund_policy,
  days_before      integer NOT NULL CHECK (days_before BETWEEN 0 AND 3650),
  refund_percent   numeric(6, 3) NOT NULL CHECK (refund_percent BETWEEN 0 AND 100),
  PRIMARY KEY (refund_policy_id, days_before)
);

CREATE TABLE room (
  id      uuid PRIMARY KEY,
  name    text NOT NULL UNIQUE CHECK (name <> ''),
  benches integer NOT NULL CHECK (benches BETWEEN 1 AND 200)
);
