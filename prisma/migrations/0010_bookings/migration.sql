-- Confirmed is not stored: it is read from the charge, once the deposit is paid.
CREATE TABLE booking (
  id             uuid PRIMARY KEY,
  course_id      uuid NOT NULL REFERENCES course,
  payer_id       uuid NOT NULL REFERENCES person,
  charge_id      uuid NOT NULL UNIQUE REFERENCES charge,
  deposit_minor  integer NOT NULL CHECK (deposit_minor >= 0),
  held_until     timestamptz(3) NOT NULL, -- matters only while the deposit is unpaid
  booked_at      timestamptz(3) NOT NULL,
  cancelled_at   timestamptz(3),
  cancelled_because text CHECK (cancelled_because <> ''),
  CHECK ((cancelled_at IS NULL) = (cancelled_because IS NULL))
);
CREATE INDEX booking_course_id_idx ON booking (course_id);
CREATE INDEX booking_payer_id_idx ON booking (payer_id);

CREATE TABLE place (
  id         uuid PRIMARY KEY,
  booking_id uuid NOT NULL REFERENCES booking,
  person_id  uuid NOT NULL REFERENCES person
);
CREATE INDEX place_booking_id_idx ON place (booking_id);
CREATE INDEX place_person_id_idx ON place (person_id);

-- The second wall behind bookings/service.ts: whoever writes a place, by whatever road, a course's taken places are counted
-- under a lock on the course, so that two writers can't both see the last one. (NO KEY UPDATE: both refer to the course already,
-- and with FOR UPDATE each would wait for the other.)
CREATE FUNCTION check_places(course uuid) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  free bigint;
BEGIN
  SELECT places INTO free FROM course c WHERE c.id = check_places.course FOR NO KEY UPDATE;
  SELECT free - count(*) INTO free FROM place p JOIN booking b ON b.id = p.booking_id
    WHERE b.course_id = check_places.course AND b.cancelled_at IS NULL;
  IF free < 0 THEN
    RAISE EXCEPTION 'course % is oversold by %', check_places.course, -free USING ERRCODE = 'WB002';
  END IF;
END $$;
CREATE FUNCTION place_not_oversold() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM check_places((SELECT course_id FROM booking WHERE id = NEW.booking_id));
  RETURN NULL;
END $$;
CREATE FUNCTION booking_not_oversold() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM check_places(NEW.course_id);
  RETURN NULL;
END $$;
CREATE FUNCTION course_not_oversold() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM check_places(NEW.id);
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER place_not_oversold AFTER INSERT OR UPDATE ON place
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION place_not_oversold();
CREATE CONSTRAINT TRIGGER booking_not_oversold AFTER UPDATE ON booking
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION booking_not_oversold();
CREATE CONSTRAINT TRIGGER course_not_oversold AFTER UPDATE OF places ON course
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION course_not_oversold();
