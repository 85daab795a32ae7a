-- Somebody else comes instead: what was heard of the age of the one does not hold for the other.
-- Two entries of one person that become one are not somebody else.
CREATE FUNCTION changed_place_of_age() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.age_confirmed OR is_merge(TG_RELID, to_jsonb(OLD), to_jsonb(NEW)) THEN RETURN NULL; END IF;
  IF EXISTS (SELECT FROM booking b JOIN course c ON c.id = b.course_id
              WHERE b.id = NEW.booking_id AND num_nonnulls(c.age_from, c.age_to) > 0) THEN
    RAISE EXCEPTION 'nobody said that person % is of the age for this course', NEW.person_id USING ERRCODE = 'WB025';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER changed_place_of_age AFTER UPDATE OF person_id ON place
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION changed_place_of_age();

-- What the studio notes of a booking for itself; what was noted before stays.
CREATE TABLE booking_note (
  id         uuid PRIMARY KEY,
  booking_id uuid NOT NULL REFERENCES booking,
  note       text NOT NULL CHECK (note <> ''),
  at         timestamptz(3) NOT NULL,
  made_by_id uuid NOT NULL REFERENCES staff_member
);
CREATE INDEX booking_note_booking_id_idx ON booking_note (booking_id);
CREATE INDEX booking_note_made_by_id_idx ON booking_note (made_by_id);
CREATE TRIGGER booking_note_never_changes BEFORE UPDATE OR DELETE ON booking_note
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB015');
