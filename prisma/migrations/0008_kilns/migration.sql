CREATE TYPE firing_kind AS ENUM ('bisque', 'glaze', 'lustre');
CREATE TYPE kiln_shape AS ENUM ('rectangular', 'round', 'oval');

CREATE TABLE kiln (
  id            uuid PRIMARY KEY,
  name          text NOT NULL UNIQUE CHECK (name <> ''),
  shape         kiln_shape NOT NULL,
  width_mm      integer NOT NULL CHECK (width_mm BETWEEN 100 AND 3000),
  depth_mm      integer NOT NULL CHECK (depth_mm BETWEEN 100 AND 3000),
  height_mm     integer NOT NULL CHECK (height_mm BETWEEN 100 AND 3000),
  rated_kw      numeric(6, 2) NOT NULL CHECK (rated_kw > 0 AND rated_kw <= 200),
  fill_percent  numeric(6, 3) NOT NULL CHECK (fill_percent > 0 AND fill_percent <= 100),
  CHECK (shape <> 'round' OR width_mm = depth_mm)
);

-- Elements, thermocouple, shelves and kiln wash, per firing of a kind.
CREATE TABLE kiln_wear (
  kiln_id    uuid NOT NULL REFERENCES kiln,
  kind       firing_kind NOT NULL,
  wear_minor integer NOT NULL CHECK (wear_minor >= 0),
  PRIMARY KEY (kiln_id, kind)
);

CREATE TABLE schedule (
  id         uuid PRIMARY KEY,
  name       text NOT NULL UNIQUE CHECK (name <> ''),
  kind       firing_kind NOT NULL,
  cone       text CHECK (cone <> '')
);

CREATE TABLE segment (
  schedule_id     uuid NOT NULL REFERENCES schedule,
  ordinal         integer NOT NULL CHECK (ordinal > 0),
  rate_per_hour_c integer NOT NULL CHECK (rate_per_hour_c BETWEEN 1 AND 2000),
  target_c        integer NOT NULL CHECK (target_c BETWEEN 20 AND 1400),
  hold_minutes    integer NOT NULL CHECK (hold_minutes BETWEEN 0 AND 6000),
  PRIMARY KEY (schedule_id, ordinal)
);

CREATE TABLE tariff (
  id         uuid PRIMARY KEY,
  name       text NOT NULL CHECK (name <> ''),
  valid_from date NOT NULL UNIQUE
);

-- Minutes of the local day; a tariff's bands cover it whole.
CREATE TABLE tariff_band (
  tariff_id     uuid NOT NULL REFERENCES tariff,
  from_minute   integer NOT NULL CHECK (from_minute BETWEEN 0 AND 1439),
  to_minute     integer NOT NULL CHECK (to_minute BETWEEN 1 AND 1440),
  per_kwh_minor numeric(12, 6) NOT NULL CHECK (per_kwh_minor >= 0),
  PRIMARY KEY (tariff_id, from_minute),
  CHECK (from_minute < to_minute)
);
