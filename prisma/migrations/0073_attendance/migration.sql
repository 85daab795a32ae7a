-- Who came to a session, as it was noted. What is noted again is another entry, and the latest counts.
CREATE TABLE attendance (
  id          uuid PRIMARY KEY,
  session_id  uuid NOT NULL REFERENCES session,
  person_id   uuid NOT NULL REFERENCES person,
  came        boolean, -- null takes back what was noted before
  noted_at    timestamptz(3) NOT NULL,
  received_at timestamptz(3) NOT NULL, -- later than it was noted, where there was no connection
  noted_by_id uuid NOT NULL REFERENCES staff_member,
  CHECK (noted_at <= received_at)
);
CREATE INDEX attendance_latest_idx ON attendance (session_id, person_id, noted_at DESC, id DESC);
CREATE INDEX attendance_person_id_idx ON attendance (person_id);
CREATE INDEX attendance_noted_by_id_idx ON attendance (noted_by_id);

CREATE TRIGGER attendance_never_changes BEFORE UPDATE OR DELETE ON attendance
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB015');

-- The second wall behind bookings/attendance.ts: only somebody who has a place comes, and not before the day of the session. A day
-- has at most 25 hours.
CREATE FUNCTION attendance_is_of_a_place() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (
    SELECT FROM session s JOIN booking b ON b.course_id = s.course_id JOIN place p ON p.booking_id = b.id
     WHERE s.id = NEW.session_id AND p.person_id = NEW.person_id
       AND (b.cancelled_at IS NULL OR b.cancelled_at > NEW.noted_at)) THEN
    RAISE EXCEPTION 'person % has no place at session %', NEW.person_id, NEW.session_id USING ERRCODE = 'WB016';
  END IF;
  IF NEW.noted_at < (SELECT starts_at FROM session WHERE id = NEW.session_id) - interval '25 hours' THEN
    RAISE EXCEPTION 'session % is still to come', NEW.session_id USING ERRCODE = 'WB016';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER attendance_is_of_a_place BEFORE INSERT ON attendance
  FOR EACH ROW EXECUTE FUNCTION attendance_is_of_a_place();
