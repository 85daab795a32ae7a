-- The courses whose enrolment is not noted: those to come, and of those that have begun the few of which something changed. A price asks
-- for them each time, and would else look at all courses for them.
ALTER TABLE course ADD COLUMN enrolment_noted boolean NOT NULL DEFAULT false;
UPDATE course SET enrolment_noted = true WHERE id IN (SELECT course_id FROM course_enrolment);
CREATE INDEX course_enrolment_to_note_idx ON course (id) WHERE NOT enrolment_noted;

CREATE FUNCTION keep_enrolment_noted() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE course SET enrolment_noted = (TG_OP = 'INSERT') WHERE id = CASE TG_OP WHEN 'INSERT' THEN NEW.course_id ELSE OLD.course_id END;
  RETURN NULL;
END $$;
CREATE TRIGGER enrolment_is_noted AFTER INSERT OR DELETE ON course_enrolment FOR EACH ROW EXECUTE FUNCTION keep_enrolment_noted();

-- What the metered firings of a kiln and schedule drew, and the latest that were settled.
CREATE INDEX firing_metered_idx ON firing (kiln_id, schedule_id, energy_kwh) WHERE state = 'settled' AND energy_kwh > 0;
CREATE INDEX firing_settled_idx ON firing (started_at, id) WHERE state = 'settled';
