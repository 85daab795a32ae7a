-- Terms on which places of a course are sold from now on. What was booked keeps its own: each place its price, each charge its payments.
ALTER TABLE course
  ADD later_price_from  date CHECK (later_price_from BETWEEN '2000-01-01' AND '2099-12-31'),
  ADD later_price_minor integer CHECK (later_price_minor > 0),
  ADD bookable_from     date CHECK (bookable_from BETWEEN '2000-01-01' AND '2099-12-31'), -- before it only by a named act of the owner
  ADD bookable_until    date CHECK (bookable_until BETWEEN '2000-01-01' AND '2099-12-31'), -- the last day
  ADD age_from          smallint CHECK (age_from BETWEEN 0 AND 120),
  ADD age_to            smallint CHECK (age_to BETWEEN 0 AND 120),
  ADD CONSTRAINT course_later_price_check CHECK ((later_price_from IS NULL) = (later_price_minor IS NULL)),
  ADD CONSTRAINT course_later_deposit_check CHECK (deposit_minor <= later_price_minor),
  ADD CONSTRAINT course_bookable_check CHECK (bookable_from <= bookable_until),
  ADD CONSTRAINT course_age_check CHECK (age_from <= age_to);

-- What a place cost from which day on, as it was said then. It is appended; without a day it is the price from the beginning.
CREATE TABLE course_price (
  id          uuid PRIMARY KEY,
  course_id   uuid NOT NULL REFERENCES course,
  from_day    date,
  price_minor integer NOT NULL CHECK (price_minor > 0),
  noted_at    timestamptz(3) NOT NULL,
  noted_by_id uuid NOT NULL REFERENCES staff_member
);
CREATE INDEX course_price_course_id_id_idx ON course_price (course_id, id);
CREATE INDEX course_price_noted_by_id_idx ON course_price (noted_by_id);
CREATE TRIGGER course_price_never_changes BEFORE UPDATE OR DELETE ON course_price
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB015');

-- A concession at which somebody has booked is kept, and offered no more.
ALTER TABLE course_concession ADD is_offered boolean NOT NULL DEFAULT true;

-- The named acts: the owner booked outside the days of booking, and heard that those who come are of the age that the course is for.
ALTER TABLE booking ADD outside_window boolean NOT NULL DEFAULT false;
ALTER TABLE place ADD age_confirmed boolean NOT NULL DEFAULT false;

-- The second wall behind bookings/selling-rules.ts.
CREATE FUNCTION booking_in_window() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM course c, studio s
              WHERE c.id = NEW.course_id
                AND ((NEW.booked_at AT TIME ZONE s.time_zone)::date < c.bookable_from
                  OR (NEW.booked_at AT TIME ZONE s.time_zone)::date > c.bookable_until)) THEN
    RAISE EXCEPTION 'course % is not booked on that day', NEW.course_id USING ERRCODE = 'WB025';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER booking_in_window AFTER INSERT ON booking
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW WHEN (NOT NEW.outside_window) EXECUTE FUNCTION booking_in_window();

CREATE FUNCTION place_of_age() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM booking b JOIN course c ON c.id = b.course_id
              WHERE b.id = NEW.booking_id AND num_nonnulls(c.age_from, c.age_to) > 0) THEN
    RAISE EXCEPTION 'nobody said that person % is of the age for this course', NEW.person_id USING ERRCODE = 'WB025';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER place_of_age AFTER INSERT ON place
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW WHEN (NOT NEW.age_confirmed) EXECUTE FUNCTION place_of_age();
