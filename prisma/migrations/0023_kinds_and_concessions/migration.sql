CREATE TYPE plan_kind AS ENUM ('course', 'private', 'openStudio');

-- Open studio is held with nobody too: that is what a minimum of 0 means, and nothing else has one.
ALTER TABLE course_plan
  ADD kind plan_kind NOT NULL DEFAULT 'course',
  ADD group_of integer CHECK (group_of BETWEEN 1 AND 200), -- so many heads are in the price of a private session
  ADD firing_included_litres numeric(8, 2) CHECK (firing_included_litres > 0), -- of ware per student; NULL: all of it
  DROP CONSTRAINT course_plan_minimum_check,
  ADD CONSTRAINT course_plan_minimum_check CHECK (minimum BETWEEN 0 AND 200 AND (minimum = 0) = (kind = 'openStudio')),
  ADD CONSTRAINT course_plan_group_check CHECK ((group_of IS NOT NULL) = (kind = 'private') AND group_of <= places);

ALTER TABLE course
  ADD per_head_above_minor integer CHECK (per_head_above_minor >= 0), -- for each head above the plan's group
  DROP CONSTRAINT course_minimum_check,
  ADD CONSTRAINT course_minimum_check CHECK (minimum BETWEEN 0 AND 200);

-- At which other prices a plan's places are expected to go; the rest of them at the full one.
CREATE TABLE plan_concession (
  plan_id       uuid NOT NULL REFERENCES course_plan,
  ordinal       integer NOT NULL CHECK (ordinal > 0),
  label         text NOT NULL CHECK (label <> ''),
  share_percent numeric(5, 2) NOT NULL CHECK (share_percent > 0 AND share_percent <= 100),
  price_percent numeric(5, 2) NOT NULL CHECK (price_percent > 0 AND price_percent <= 100), -- of the full price
  less_minor    integer NOT NULL CHECK (less_minor >= 0), -- and a sum less than that
  payments      integer CHECK (payments BETWEEN 1 AND 12), -- NULL: as everybody
  PRIMARY KEY (plan_id, ordinal),
  UNIQUE (plan_id, label)
);

-- What of a plan's price bears another VAT than the rest.
CREATE TABLE plan_part (
  plan_id       uuid NOT NULL REFERENCES course_plan,
  ordinal       integer NOT NULL CHECK (ordinal > 0),
  label         text NOT NULL CHECK (label <> ''),
  tax_rate_id   uuid NOT NULL REFERENCES tax_rate,
  share_percent numeric(5, 2) CHECK (share_percent > 0 AND share_percent < 100),
  amount_minor  integer CHECK (amount_minor > 0),
  PRIMARY KEY (plan_id, ordinal),
  CHECK ((share_percent IS NULL) <> (amount_minor IS NULL))
);

CREATE TABLE course_concession (
  id          uuid PRIMARY KEY,
  course_id   uuid NOT NULL REFERENCES course,
  ordinal     integer NOT NULL CHECK (ordinal > 0),
  label       text NOT NULL CHECK (label <> ''),
  price_minor integer NOT NULL CHECK (price_minor > 0), -- gross, for one place
  at_most     integer CHECK (at_most BETWEEN 1 AND 200), -- places; NULL: as many as there are
  UNIQUE (course_id, ordinal),
  UNIQUE (course_id, label)
);

ALTER TABLE place ADD concession_id uuid REFERENCES course_concession;
CREATE INDEX place_concession_id_idx ON place (concession_id);

-- The second wall behind bookings/concessions.ts, under the same lock as the course's places: two writers can't both give away a
-- concession's last place, nor one take that of another course.
CREATE FUNCTION concession_not_oversold() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  given course_concession;
  taken bigint;
BEGIN
  IF NEW.concession_id IS NULL THEN RETURN NULL; END IF;
  SELECT * INTO given FROM course_concession WHERE id = NEW.concession_id;
  PERFORM 1 FROM course WHERE id = given.course_id FOR NO KEY UPDATE;
  SELECT count(*) INTO taken FROM place p JOIN booking b ON b.id = p.booking_id
   WHERE p.concession_id = given.id AND b.cancelled_at IS NULL;
  IF taken > given.at_most OR given.course_id <> (SELECT course_id FROM booking WHERE id = NEW.booking_id) THEN
    RAISE EXCEPTION 'concession % is oversold or of another course', given.id USING ERRCODE = 'WB002';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER concession_not_oversold AFTER INSERT OR UPDATE ON place
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION concession_not_oversold();
