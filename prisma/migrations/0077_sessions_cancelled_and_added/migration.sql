-- One session of a course is cancelled, or one is added to those of its plan.
ALTER TABLE session ADD is_added boolean NOT NULL DEFAULT false;

ALTER TYPE notice_occasion ADD VALUE 'sessionCancelled';
ALTER TYPE notice_occasion ADD VALUE 'sessionAdded';

-- The second wall behind courses/cancel-session.ts: a course that goes on has a session. It is judged last, since a course that is
-- cancelled as a whole cancels its sessions first.
CREATE FUNCTION course_keeps_a_session() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM course c WHERE c.id = NEW.course_id FOR NO KEY UPDATE;
  IF EXISTS (SELECT FROM course c WHERE c.id = NEW.course_id AND c.cancelled_at IS NULL)
     AND NOT EXISTS (SELECT FROM session s WHERE s.course_id = NEW.course_id AND s.cancelled_at IS NULL) THEN
    RAISE EXCEPTION 'course % has no session left', NEW.course_id USING ERRCODE = 'WB020';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER course_keeps_a_session AFTER UPDATE OF cancelled_at ON session
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION course_keeps_a_session();
