CREATE TYPE course_work AS ENUM ('teaching', 'preparing', 'clearing', 'kiln', 'messages', 'other');

-- What somebody really worked for a course, as it was noted. A correction is another entry, below zero.
CREATE TABLE course_hours (
  id              uuid PRIMARY KEY,
  course_id       uuid NOT NULL REFERENCES course,
  what            course_work NOT NULL,
  minutes         integer NOT NULL CHECK (minutes <> 0 AND minutes BETWEEN -60000 AND 60000),
  worked_on       date NOT NULL,
  staff_member_id uuid REFERENCES staff_member, -- without one: the owner
  note            text NOT NULL CHECK (minutes > 0 OR note <> ''),
  noted_at        timestamptz(3) NOT NULL
);
CREATE INDEX course_hours_course_id_idx ON course_hours (course_id);
CREATE TRIGGER course_hours_never_changes BEFORE UPDATE OR DELETE ON course_hours
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB005');

-- Nobody takes back more than was noted. The course's row is locked, or two corrections at once would each find enough.
CREATE FUNCTION course_hours_stay_above_nothing() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  total bigint;
BEGIN
  PERFORM 1 FROM course WHERE id = NEW.course_id FOR NO KEY UPDATE;
  SELECT sum(minutes) INTO total FROM course_hours
   WHERE course_id = NEW.course_id AND what = NEW.what AND staff_member_id IS NOT DISTINCT FROM NEW.staff_member_id;
  IF total < 0 THEN
    RAISE EXCEPTION 'course %: % minutes of % are left', NEW.course_id, total, NEW.what USING ERRCODE = '23514';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER course_hours_stay_above_nothing AFTER INSERT ON course_hours
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION course_hours_stay_above_nothing();
