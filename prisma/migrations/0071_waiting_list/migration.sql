-- Who waits for a place on a course, in the order in which they came. A free place is offered to the first whom it is enough for, and
-- is kept for them until a deadline: meanwhile it is as taken as one that is booked.
CREATE TYPE waiting_end AS ENUM ('booked', 'declined', 'lapsed', 'removed');
CREATE TABLE waiting_entry (
  id            uuid PRIMARY KEY,
  course_id     uuid NOT NULL REFERENCES course,
  person_id     uuid NOT NULL REFERENCES person,
  places        integer NOT NULL CHECK (places BETWEEN 1 AND 20),
  note          text CHECK (note <> ''),
  since         timestamptz(3) NOT NULL,
  offered_at    timestamptz(3),
  offered_until timestamptz(3),
  ended_at      timestamptz(3),
  ended         waiting_end,
  booking_id    uuid REFERENCES booking,
  CHECK ((offered_at IS NULL) = (offered_until IS NULL)),
  CHECK (offered_until > offered_at),
  CHECK ((ended_at IS NULL) = (ended IS NULL)),
  CHECK (booking_id IS NULL OR ended = 'booked'),
  CHECK (offered_at IS NOT NULL OR ended NOT IN ('declined', 'lapsed'))
);
CREATE UNIQUE INDEX waiting_entry_once ON waiting_entry (course_id, person_id) WHERE ended_at IS NULL;
CREATE INDEX waiting_entry_course_id_idx ON waiting_entry (course_id, since, id);
CREATE INDEX waiting_entry_person_id_idx ON waiting_entry (person_id);
CREATE INDEX waiting_entry_booking_id_idx ON waiting_entry (booking_id);
CREATE INDEX waiting_entry_offered_idx ON waiting_entry (offered_until) WHERE offered_at IS NOT NULL AND ended_at IS NULL;

-- It goes one way: offered once, ended once, and then the booking that came of it. Nothing is taken back.
CREATE FUNCTION waiting_entry_goes_on() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE'
     AND (NEW.id, NEW.course_id, NEW.person_id, NEW.places, NEW.note, NEW.since)
         IS NOT DISTINCT FROM (OLD.id, OLD.course_id, OLD.person_id, OLD.places, OLD.note, OLD.since)
     AND (OLD.offered_at IS NULL OR (NEW.offered_at, NEW.offered_until) IS NOT DISTINCT FROM (OLD.offered_at, OLD.offered_until))
     AND (OLD.ended_at IS NULL
          OR (OLD.booking_id IS NULL
              AND (NEW.offered_at, NEW.ended_at, NEW.ended) IS NOT DISTINCT FROM (OLD.offered_at, OLD.ended_at, OLD.ended)))
  THEN RETURN NEW; END IF;
  RAISE EXCEPTION 'waiting entry % was ended or offered before', OLD.id USING ERRCODE = 'WB014';
END $$;
CREATE TRIGGER waiting_entry_goes_on BEFORE UPDATE OR DELETE ON waiting_entry
  FOR EACH ROW EXECUTE FUNCTION waiting_entry_goes_on();

-- What is offered counts as taken, wherever places are counted.
CREATE OR REPLACE FUNCTION check_places(course uuid) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  free bigint;
BEGIN
  SELECT places INTO free FROM course c WHERE c.id = check_places.course FOR NO KEY UPDATE;
  SELECT free - (SELECT count(*) FROM place p JOIN booking b ON b.id = p.booking_id
                  WHERE b.course_id = check_places.course AND b.cancelled_at IS NULL)
              - (SELECT coalesce(sum(w.places), 0) FROM waiting_entry w
                  WHERE w.course_id = check_places.course AND w.offered_at IS NOT NULL AND w.ended_at IS NULL)
    INTO free;
  IF free < 0 THEN
    RAISE EXCEPTION 'course % is oversold by %', check_places.course, -free USING ERRCODE = 'WB002';
  END IF;
END $$;
CREATE FUNCTION offer_not_oversold() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM check_places(NEW.course_id);
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER offer_not_oversold AFTER INSERT OR UPDATE ON waiting_entry
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION offer_not_oversold();

-- Nobody who has a place waits for one, whichever came first; the course's lock lets two writers see each other.
CREATE FUNCTION place_not_waiting() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  taught uuid := CASE TG_TABLE_NAME WHEN 'waiting_entry' THEN (to_jsonb(NEW) ->> 'course_id')::uuid
                      ELSE (SELECT course_id FROM booking WHERE id = (to_jsonb(NEW) ->> 'booking_id')::uuid) END;
BEGIN
  PERFORM 1 FROM course c WHERE c.id = taught FOR NO KEY UPDATE;
  IF EXISTS (SELECT FROM waiting_entry w JOIN place p ON p.person_id = w.person_id JOIN booking b ON b.id = p.booking_id
              WHERE w.course_id = taught AND w.person_id = NEW.person_id AND w.ended_at IS NULL
                AND b.course_id = w.course_id AND b.cancelled_at IS NULL) THEN
    RAISE EXCEPTION 'person % waits for course % and has a place', NEW.person_id, taught USING ERRCODE = 'WB014';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER place_not_waiting AFTER INSERT ON place
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION place_not_waiting();
CREATE CONSTRAINT TRIGGER waiting_without_place AFTER INSERT ON waiting_entry
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION place_not_waiting();

ALTER TYPE notice_occasion ADD VALUE 'placeOffered';
ALTER TYPE notice_occasion ADD VALUE 'offerLapsed';
