-- A course can be cancelled as a whole, and with it each of its sessions. What it was stays: its bookings, sessions and letters are kept
-- and struck out.
CREATE TYPE cancellation_cause AS ENUM ('tooFew', 'other');
ALTER TABLE course
  ADD cancelled_at      timestamptz(3),
  ADD cancelled_by_id   uuid REFERENCES staff_member,
  ADD cancelled_for     cancellation_cause, -- what a price may learn from it
  ADD cancelled_because text CHECK (cancelled_because <> ''),
  ADD CONSTRAINT course_cancelled_check
      CHECK (num_nonnulls(cancelled_at, cancelled_by_id, cancelled_for, cancelled_because) IN (0, 4)),
  ADD CONSTRAINT course_completed_or_cancelled CHECK (cancelled_at IS NULL OR completed_on IS NULL);
CREATE INDEX course_cancelled_by_id_idx ON course (cancelled_by_id);
ALTER TABLE session
  ADD cancelled_at      timestamptz(3),
  ADD cancelled_because text CHECK (cancelled_because <> ''),
  ADD CONSTRAINT session_cancelled_check CHECK ((cancelled_at IS NULL) = (cancelled_because IS NULL));

ALTER TYPE waiting_end ADD VALUE 'courseCancelled';
ALTER TYPE notice_occasion ADD VALUE 'courseCancelled';

-- The second wall behind bookings/cancel-course.ts: on a cancelled course nobody has a place, nobody waits, and no session is left. The
-- course's lock lets two writers see each other: a booking that comes at the same moment is either cancelled with the others or refused.
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
    INTO free;
  IF free < 0 THEN
    RAISE EXCEPTION 'course % is oversold by %', check_places.course, -free USING ERRCODE = 'WB002';
  END IF;
END $$;
DROP TRIGGER course_not_oversold ON course;
CREATE CONSTRAINT TRIGGER course_not_oversold AFTER UPDATE OF places, cancelled_at ON course
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION course_not_oversold();

-- It is cancelled once, and then stays as it was.
CREATE FUNCTION course_stays_cancelled() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'course % is cancelled', OLD.id USING ERRCODE = 'WB020';
END $$;
CREATE TRIGGER course_stays_cancelled BEFORE UPDATE ON course FOR EACH ROW
  WHEN (OLD.cancelled_at IS NOT NULL
        AND (NEW.cancelled_at, NEW.cancelled_by_id, NEW.cancelled_for, NEW.cancelled_because, NEW.completed_on,
             NEW.title, NEW.places, NEW.minimum, NEW.note)
            IS DISTINCT FROM (OLD.cancelled_at, OLD.cancelled_by_id, OLD.cancelled_for, OLD.cancelled_because, OLD.completed_on,
             OLD.title, OLD.places, OLD.minimum, OLD.note))
  EXECUTE FUNCTION course_stays_cancelled();

-- So does a session, which is taught by nobody and to which nobody came. Only its place in the order may change.
CREATE FUNCTION session_stays_cancelled() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF OLD.cancelled_at IS NOT NULL
     OR EXISTS (SELECT FROM session_tutor t WHERE t.session_id = OLD.id)
     OR EXISTS (SELECT FROM attendance a WHERE a.session_id = OLD.id AND a.came
                   AND NOT EXISTS (SELECT FROM attendance l WHERE l.session_id = a.session_id AND l.person_id = a.person_id
                                      AND (l.noted_at, l.id) > (a.noted_at, a.id))) THEN
    RAISE EXCEPTION 'session % is cancelled, or is taught, or somebody came', OLD.id USING ERRCODE = 'WB020';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER session_stays_cancelled BEFORE UPDATE OF cancelled_at, cancelled_because, starts_at, ends_at, room_id, benches ON session
  FOR EACH ROW WHEN (OLD.cancelled_at IS NOT NULL OR NEW.cancelled_at IS NOT NULL) EXECUTE FUNCTION session_stays_cancelled();

CREATE FUNCTION not_of_a_cancelled_session() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM session s WHERE s.id = NEW.session_id AND s.cancelled_at IS NOT NULL;
  IF FOUND THEN
    RAISE EXCEPTION 'session % is cancelled', NEW.session_id USING ERRCODE = 'WB020';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER not_of_a_cancelled_session BEFORE INSERT OR UPDATE ON session_tutor
  FOR EACH ROW EXECUTE FUNCTION not_of_a_cancelled_session();
CREATE TRIGGER not_of_a_cancelled_session BEFORE INSERT ON attendance
  FOR EACH ROW EXECUTE FUNCTION not_of_a_cancelled_session();

-- A session that is cancelled needs no bench, and has no place in the order of those that take place.
CREATE OR REPLACE FUNCTION room_has_benches() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  has integer;
  needed bigint;
BEGIN
  SELECT benches INTO has FROM room WHERE id = NEW.room_id FOR NO KEY UPDATE;
  SELECT max(used) INTO needed FROM (
    SELECT (SELECT sum(benches) FROM session s
             WHERE s.room_id = NEW.room_id AND s.cancelled_at IS NULL AND s.starts_at <= m.moment AND m.moment < s.ends_at) AS used
      FROM (SELECT NEW.starts_at AS moment
            UNION SELECT starts_at FROM session
                   WHERE room_id = NEW.room_id AND starts_at >= NEW.starts_at AND starts_at < NEW.ends_at) m) u;
  IF needed > has THEN
    RAISE EXCEPTION 'room % has % benches, % are needed', NEW.room_id, has, needed USING ERRCODE = 'WB003';
  END IF;
  RETURN NULL;
END $$;
CREATE OR REPLACE FUNCTION sessions_in_order() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.cancelled_at IS NULL AND EXISTS (
    SELECT FROM session s WHERE s.course_id = NEW.course_id AND s.cancelled_at IS NULL
       AND ((s.ordinal < NEW.ordinal AND s.ends_at > NEW.starts_at) OR (s.ordinal > NEW.ordinal AND s.starts_at < NEW.ends_at))) THEN
    RAISE EXCEPTION 'session % is out of its order', NEW.id USING ERRCODE = 'WB017';
  END IF;
  RETURN NULL;
END $$;

-- What a course was cancelled with is what its enrolment says from then on.
DROP TRIGGER course_changes_enrolment ON course;
CREATE TRIGGER course_changes_enrolment AFTER UPDATE OF places, plan_id, cancelled_at ON course
  FOR EACH ROW EXECUTE FUNCTION forget_enrolment_of_course();
