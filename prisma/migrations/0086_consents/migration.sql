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

-- A group that books a private session need not name everybody: so many more come, and are named later or not at all.
ALTER TABLE booking ADD unnamed integer NOT NULL DEFAULT 0 CHECK (unnamed BETWEEN 0 AND 19);

-- The second wall behind bookings/take-places.ts: only a private session has people without names, and no more than it has room for. A
-- private session has one booking, which place_not_oversold and the course's lock see to.
CREATE FUNCTION group_fits() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM course c JOIN course_plan p ON p.id = c.plan_id
   WHERE c.id = NEW.course_id AND p.kind = 'private'
     AND (SELECT unnamed FROM booking b WHERE b.id = NEW.id) + (SELECT count(*) FROM place x WHERE x.booking_id = NEW.id) <= c.places;
  IF NOT FOUND THEN
    RAISE EXCEPTION 'booking % has more people without names than there is room for', NEW.id USING ERRCODE = 'WB002';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER group_fits AFTER INSERT OR UPDATE OF unnamed ON booking
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (NEW.unnamed > 0) EXECUTE FUNCTION group_fits();
