-- Somebody who misses a session comes to the like session of another course instead. There they take a place of that session alone.
CREATE TABLE make_up (
  id                uuid PRIMARY KEY,
  booking_id        uuid NOT NULL REFERENCES booking, -- that of the place whose session is missed
  person_id         uuid NOT NULL REFERENCES person,
  missed_session_id uuid NOT NULL REFERENCES session,
  session_id        uuid NOT NULL REFERENCES session, -- where they come instead
  made_at           timestamptz(3) NOT NULL,
  made_by_id        uuid NOT NULL REFERENCES staff_member,
  ended_at          timestamptz(3),
  ended_because     text CHECK (ended_because <> ''),
  CHECK (missed_session_id <> session_id),
  CHECK ((ended_at IS NULL) = (ended_because IS NULL))
);
CREATE UNIQUE INDEX make_up_once_there ON make_up (session_id, person_id) WHERE ended_at IS NULL;
CREATE UNIQUE INDEX make_up_once_missed ON make_up (missed_session_id, person_id) WHERE ended_at IS NULL;
CREATE INDEX make_up_session_id_idx ON make_up (session_id);
CREATE INDEX make_up_missed_session_id_idx ON make_up (missed_session_id);
CREATE INDEX make_up_booking_id_idx ON make_up (booking_id);
CREATE INDEX make_up_person_id_idx ON make_up (person_id);
CREATE INDEX make_up_made_by_id_idx ON make_up (made_by_id);

ALTER TYPE notice_occasion ADD VALUE 'makeUp';
ALTER TYPE notice_occasion ADD VALUE 'makeUpEnded';

-- It goes one way: it ends once.
CREATE FUNCTION make_up_goes_on() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND OLD.ended_at IS NULL
     AND (NEW.id, NEW.booking_id, NEW.person_id, NEW.missed_session_id, NEW.session_id, NEW.made_at, NEW.made_by_id)
         IS NOT DISTINCT FROM (OLD.id, OLD.booking_id, OLD.person_id, OLD.missed_session_id, OLD.session_id, OLD.made_at, OLD.made_by_id)
  THEN RETURN NEW; END IF;
  RAISE EXCEPTION 'make-up % has ended', OLD.id USING ERRCODE = 'WB021';
END $$;
CREATE TRIGGER make_up_goes_on BEFORE UPDATE OR DELETE ON make_up FOR EACH ROW EXECUTE FUNCTION make_up_goes_on();

-- How many of a course's places are gone in the session that has most who make one up: no more than the rest can be sold.
CREATE FUNCTION made_up_in(course uuid) RETURNS bigint LANGUAGE sql STABLE AS $$
  SELECT coalesce(max(n), 0) FROM (
    SELECT count(*) AS n FROM make_up m JOIN session s ON s.id = m.session_id
     WHERE s.course_id = made_up_in.course AND m.ended_at IS NULL GROUP BY m.session_id) each_session
$$;

CREATE OR REPLACE FUNCTION check_places(course uuid) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  free bigint;
  is_cancelled boolean;
BEGIN
  SELECT places, cancelled_at IS NOT NULL INTO free, is_cancelled FROM course c WHERE c.id = check_places.course FOR NO KEY UPDATE;
  IF is_cancelled THEN
    IF EXISTS (SELECT FROM booking b WHERE b.course_id = check_places.course AND b.cancelled_at IS NULL)
       OR EXISTS (SELECT FROM waiting_entry w WHERE w.course_id = check_places.course AND w.ended_at IS NULL)
       OR EXISTS (SELECT FROM session s WHERE s.course_id = check_places.course AND s.cancelled_at IS NULL) THEN
      RAISE EXCEPTION 'course % is cancelled', check_places.course USING ERRCODE = 'WB020';
    END IF;
  END IF;
  SELECT free - (SELECT count(*) FROM place p JOIN booking b ON b.id = p.booking_id
                  WHERE b.course_id = check_places.course AND b.cancelled_at IS NULL)
              - (SELECT coalesce(sum(w.places), 0) FROM waiting_entry w
                  WHERE w.course_id = check_places.course AND w.offered_at IS NOT NULL AND w.ended_at IS NULL)
              - made_up_in(check_places.course)
    INTO free;
  IF free < 0 THEN
    RAISE EXCEPTION 'course % is oversold by %', check_places.course, -free USING ERRCODE = 'WB002';
  END IF;
END $$;

-- The second wall behind bookings/make-ups/service.ts: who has a place makes up a session of that course, in one of the same purpose of
-- another course, where they have no place, and which is not cancelled; and no session has more people than its course has places.
CREATE FUNCTION make_up_fits() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  there uuid;
BEGIN
  SELECT course_id INTO there FROM session WHERE id = NEW.session_id;
  PERFORM check_places(there);
  IF NOT EXISTS (
    SELECT FROM session m JOIN booking b ON b.course_id = m.course_id JOIN place p ON p.booking_id = b.id, session s
     WHERE m.id = NEW.missed_session_id AND b.id = NEW.booking_id AND p.person_id = NEW.person_id AND b.cancelled_at IS NULL
       AND s.id = NEW.session_id AND s.course_id <> m.course_id AND s.purpose = m.purpose AND s.cancelled_at IS NULL)
     OR EXISTS (SELECT FROM place p JOIN booking b ON b.id = p.booking_id
                 WHERE b.course_id = there AND b.cancelled_at IS NULL AND p.person_id = NEW.person_id) THEN
    RAISE EXCEPTION 'session % can not be made up in session % by person %', NEW.missed_session_id, NEW.session_id, NEW.person_id
      USING ERRCODE = 'WB021';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER make_up_fits AFTER INSERT ON make_up
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION make_up_fits();

-- Nobody has a place on a course of which they make a session up; who does takes that off first.
CREATE FUNCTION place_makes_nothing_up() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM booking b JOIN session s ON s.course_id = b.course_id JOIN make_up m ON m.session_id = s.id
              WHERE b.id = NEW.booking_id AND m.person_id = NEW.person_id AND m.ended_at IS NULL) THEN
    RAISE EXCEPTION 'person % makes up a session of the course', NEW.person_id USING ERRCODE = 'WB021';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER place_makes_nothing_up AFTER INSERT ON place
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION place_makes_nothing_up();

-- Who has no place any more makes nothing up: it ends with the booking or the place, whichever way that ends.
CREATE FUNCTION make_up_ends_with_booking() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE make_up SET ended_at = NEW.cancelled_at, ended_because = 'the booking has ended'
   WHERE booking_id = NEW.id AND ended_at IS NULL;
  RETURN NULL;
END $$;
CREATE TRIGGER make_up_ends_with_booking AFTER UPDATE OF cancelled_at ON booking FOR EACH ROW
  WHEN (OLD.cancelled_at IS NULL AND NEW.cancelled_at IS NOT NULL) EXECUTE FUNCTION make_up_ends_with_booking();
CREATE FUNCTION make_up_ends_with_place() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE make_up SET ended_at = (SELECT c.cancelled_at FROM cancelled_place c WHERE c.id = OLD.id), ended_because = 'the place has ended'
   WHERE booking_id = OLD.booking_id AND person_id = OLD.person_id AND ended_at IS NULL;
  RETURN NULL;
END $$;
CREATE TRIGGER make_up_ends_with_place AFTER DELETE ON place FOR EACH ROW EXECUTE FUNCTION make_up_ends_with_place();

-- Who comes to a session to make one up is told before it is cancelled.
CREATE FUNCTION nobody_makes_up_there() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM make_up m WHERE m.session_id = NEW.id AND m.ended_at IS NULL) THEN
    RAISE EXCEPTION 'session % is cancelled while somebody makes one up there', NEW.id USING ERRCODE = 'WB021';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER nobody_makes_up_there AFTER UPDATE OF cancelled_at ON session
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (NEW.cancelled_at IS NOT NULL) EXECUTE FUNCTION nobody_makes_up_there();

-- Who makes a session up comes to it as who has a place does.
CREATE OR REPLACE FUNCTION attendance_is_of_a_place() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (
    SELECT FROM session s JOIN booking b ON b.course_id = s.course_id JOIN place p ON p.booking_id = b.id
     WHERE s.id = NEW.session_id AND p.person_id = NEW.person_id
       AND (b.cancelled_at IS NULL OR b.cancelled_at > NEW.noted_at))
     AND NOT EXISTS (
    SELECT FROM make_up m WHERE m.session_id = NEW.session_id AND m.person_id = NEW.person_id
       AND (m.ended_at IS NULL OR m.ended_at > NEW.noted_at)) THEN
    RAISE EXCEPTION 'person % has no place at session %', NEW.person_id, NEW.session_id USING ERRCODE = 'WB016';
  END IF;
  IF NEW.noted_at < (SELECT starts_at FROM session WHERE id = NEW.session_id) - interval '25 hours' THEN
    RAISE EXCEPTION 'session % is still to come', NEW.session_id USING ERRCODE = 'WB016';
  END IF;
  RETURN NEW;
END $$;
