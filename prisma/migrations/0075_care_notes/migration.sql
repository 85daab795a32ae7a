-- What somebody told the studio about health or access, for those who teach them. It has a table of its own, so that nothing that reads
-- people reads it too. What it said is gone once it is changed or removed: of that only who did it and when is kept.
CREATE TABLE care_note (
  person_id uuid PRIMARY KEY REFERENCES person,
  note      text NOT NULL CHECK (note <> '' AND length(note) <= 500)
);

CREATE TYPE care_note_event AS ENUM ('added', 'changed', 'removed');
CREATE TABLE care_note_change (
  id         uuid PRIMARY KEY,
  person_id  uuid NOT NULL REFERENCES person,
  what       care_note_event NOT NULL,
  at         timestamptz(3) NOT NULL,
  made_by_id uuid NOT NULL REFERENCES staff_member
);
CREATE INDEX care_note_change_person_id_id_idx ON care_note_change (person_id, id);
CREATE INDEX care_note_change_made_by_id_idx ON care_note_change (made_by_id);
CREATE TRIGGER care_note_change_never_changes BEFORE UPDATE OR DELETE ON care_note_change
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB015');

-- The second wall behind bookings/care/notes.ts: no note appears, changes or goes without an entry of who did it.
CREATE FUNCTION care_note_is_noted() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  whose uuid := CASE TG_OP WHEN 'DELETE' THEN OLD.person_id ELSE NEW.person_id END;
  did   care_note_event := CASE TG_OP WHEN 'INSERT' THEN 'added' WHEN 'UPDATE' THEN 'changed' ELSE 'removed' END;
BEGIN
  IF (SELECT c.what FROM care_note_change c WHERE c.person_id = whose ORDER BY c.id DESC LIMIT 1) IS DISTINCT FROM did THEN
    RAISE EXCEPTION 'nobody says who % the care note of person %', did, whose USING ERRCODE = 'WB015';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER care_note_is_noted AFTER INSERT OR UPDATE OR DELETE ON care_note
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION care_note_is_noted();
