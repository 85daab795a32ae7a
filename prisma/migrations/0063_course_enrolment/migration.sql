-- How many places were booked as a course began: what every price learns from. A job notes it, and whatever changes it afterwards takes
-- the note away, so that it is worked out anew until the job notes it again. `check` works out each.
CREATE TABLE course_enrolment (
  course_id uuid PRIMARY KEY REFERENCES course ON DELETE CASCADE,
  plan_id   uuid NOT NULL REFERENCES course_plan,
  kind      plan_kind NOT NULL,
  places    integer NOT NULL,
  booked    integer NOT NULL CHECK (booked BETWEEN 0 AND places),
  begins_at timestamptz(3) NOT NULL
);
CREATE INDEX course_enrolment_begins_at_idx ON course_enrolment (begins_at, plan_id, kind, places, booked);
CREATE INDEX course_enrolment_plan_id_idx ON course_enrolment (plan_id);

CREATE FUNCTION forget_enrolment() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM course_enrolment WHERE course_id = NEW.course_id;
  RETURN NULL;
END $$;
CREATE TRIGGER booking_changes_enrolment AFTER INSERT OR UPDATE ON booking FOR EACH ROW EXECUTE FUNCTION forget_enrolment();
CREATE TRIGGER session_changes_enrolment AFTER INSERT OR UPDATE ON session FOR EACH ROW EXECUTE FUNCTION forget_enrolment();

CREATE FUNCTION forget_enrolment_of_course() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM course_enrolment WHERE course_id = NEW.id;
  RETURN NULL;
END $$;
CREATE TRIGGER course_changes_enrolment AFTER UPDATE OF places, plan_id ON course FOR EACH ROW EXECUTE FUNCTION forget_enrolment_of_course();

CREATE FUNCTION forget_enrolment_of_session() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM course_enrolment WHERE course_id = OLD.course_id;
  RETURN NULL;
END $$;
CREATE TRIGGER session_gone_changes_enrolment AFTER DELETE ON session FOR EACH ROW EXECUTE FUNCTION forget_enrolment_of_session();

CREATE FUNCTION forget_enrolment_of_place() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM course_enrolment USING booking b
   WHERE course_enrolment.course_id = b.course_id AND b.id IN (NEW.booking_id, OLD.booking_id);
  RETURN NULL;
END $$;
CREATE TRIGGER place_changes_enrolment AFTER UPDATE OR DELETE ON place FOR EACH ROW EXECUTE FUNCTION forget_enrolment_of_place();

CREATE FUNCTION forget_enrolment_of_charge() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM course_enrolment USING booking b
   WHERE course_enrolment.course_id = b.course_id AND b.charge_id IN (NEW.charge_id, OLD.charge_id) AND b.cancelled_at IS NOT NULL;
  RETURN NULL;
END $$;
CREATE TRIGGER allocation_changes_enrolment AFTER INSERT OR UPDATE OR DELETE ON allocation
  FOR EACH ROW EXECUTE FUNCTION forget_enrolment_of_charge();

-- The day on which a booking was cancelled is one of the studio's.
CREATE FUNCTION forget_enrolments() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM course_enrolment;
  RETURN NULL;
END $$;
CREATE TRIGGER time_zone_changes_enrolments AFTER UPDATE OF time_zone ON studio
  FOR EACH ROW WHEN (OLD.time_zone IS DISTINCT FROM NEW.time_zone) EXECUTE FUNCTION forget_enrolments();
