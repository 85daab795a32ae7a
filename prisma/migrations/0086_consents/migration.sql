-- A guardian's consent for a child: who gave it, when, how and to what; for one course or for all. It is appended, and can be withdrawn.
CREATE TYPE consent_means AS ENUM ('onPaper', 'byEmail', 'byPhone', 'inPerson');
CREATE TABLE consent (
  id              uuid PRIMARY KEY,
  child_id        uuid NOT NULL REFERENCES person,
  given_by_id     uuid NOT NULL REFERENCES person,
  course_id       uuid REFERENCES course, -- NULL for all that they come to
  given_on        date NOT NULL,
  means           consent_means NOT NULL,
  what            text NOT NULL CHECK (what <> '' AND length(what) <= 500),
  noted_at        timestamptz(3) NOT NULL,
  noted_by_id     uuid NOT NULL REFERENCES staff_member,
  withdrawn_at    timestamptz(3),
  withdrawn_by_id uuid REFERENCES staff_member,
  CHECK (child_id <> given_by_id),
  CHECK ((withdrawn_at IS NULL) = (withdrawn_by_id IS NULL))
);
CREATE INDEX consent_child_id_idx ON consent (child_id, id);
CREATE INDEX consent_given_by_id_idx ON consent (given_by_id);
CREATE INDEX consent_course_id_idx ON consent (course_id);
CREATE INDEX consent_noted_by_id_idx ON consent (noted_by_id);
CREATE INDEX consent_withdrawn_by_id_idx ON consent (withdrawn_by_id);

CREATE FUNCTION consent_goes_on() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' THEN
    IF is_merge(TG_RELID, to_jsonb(OLD), to_jsonb(NEW))
       OR (OLD.withdrawn_at IS NULL
           AND to_jsonb(NEW) - 'withdrawn_at' - 'withdrawn_by_id' = to_jsonb(OLD) - 'withdrawn_at' - 'withdrawn_by_id') THEN
      RETURN NEW;
    END IF;
  END IF;
  RAISE EXCEPTION 'consent % stays as it was noted', OLD.id USING ERRCODE = 'WB015';
END $$;
CREATE TRIGGER consent_goes_on BEFORE UPDATE OR DELETE ON consent FOR EACH ROW EXECUTE FUNCTION consent_goes_on();
