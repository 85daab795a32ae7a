-- What changed of a course after it was put in the calendar, in words as they were then. It is appended.
CREATE TABLE course_change (
  id         uuid PRIMARY KEY,
  course_id  uuid NOT NULL REFERENCES course,
  at         timestamptz(3) NOT NULL,
  made_by_id uuid NOT NULL REFERENCES staff_member,
  what       text NOT NULL CHECK (what <> '')
);
CREATE INDEX course_change_course_id_id_idx ON course_change (course_id, id);
CREATE INDEX course_change_made_by_id_idx ON course_change (made_by_id);
CREATE TRIGGER course_change_never_changes BEFORE UPDATE OR DELETE ON course_change
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB015');

-- What students should know of a course, as letters say it.
ALTER TABLE course ADD note text CHECK (note <> '');

ALTER TYPE notice_occasion ADD VALUE 'sessionMoved';

-- The second wall behind courses/move-session.ts: a session at which somebody was noted was when it was.
CREATE FUNCTION session_stays_once_noted() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM attendance a WHERE a.session_id = OLD.id) THEN
    RAISE EXCEPTION 'session %: who came is noted', OLD.id USING ERRCODE = 'WB017';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER session_stays_once_noted BEFORE UPDATE OF starts_at, ends_at ON session FOR EACH ROW
  WHEN (OLD.starts_at <> NEW.starts_at OR OLD.ends_at <> NEW.ends_at) EXECUTE FUNCTION session_stays_once_noted();

-- Sessions of a course come one after the other, in their order.
CREATE FUNCTION sessions_in_order() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (
    SELECT FROM session s WHERE s.course_id = NEW.course_id
       AND ((s.ordinal < NEW.ordinal AND s.ends_at > NEW.starts_at) OR (s.ordinal > NEW.ordinal AND s.starts_at < NEW.ends_at))) THEN
    RAISE EXCEPTION 'session % is out of its order', NEW.id USING ERRCODE = 'WB017';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER sessions_in_order AFTER INSERT OR UPDATE OF starts_at, ends_at ON session
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION sessions_in_order();
