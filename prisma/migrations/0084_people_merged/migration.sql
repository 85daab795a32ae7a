-- Two entries of one person become one: docs/decisions/052. Whatever names the one who goes is moved to the one who stays, the row of the
-- one who goes is deleted, and this one leads on from it. Since every table refers to person, nothing can be left behind: the foreign
-- keys would not let the row go.
CREATE TABLE person_merge (
  id                 uuid PRIMARY KEY, -- that of the person who went
  into_id            uuid NOT NULL REFERENCES person,
  merged_at          timestamptz(3) NOT NULL,
  merged_by_id       uuid NOT NULL REFERENCES staff_member,
  was                jsonb NOT NULL, -- what was known of the one who went
  into_was           jsonb NOT NULL, -- and of the one who stays, before
  balance_minor      bigint NOT NULL, -- what the one who went owed by the books
  into_balance_minor bigint NOT NULL, -- and the one who stays
  moved              jsonb, -- the keys of the rows that were moved, by table and column; set in the same transaction
  CHECK (id <> into_id)
);
CREATE INDEX person_merge_into_id_idx ON person_merge (into_id);
CREATE INDEX person_merge_merged_by_id_idx ON person_merge (merged_by_id);

-- Whether a row only changed from the person who went to the one who stays. Generated columns are worked out after triggers like these.
CREATE FUNCTION is_merge(of_table oid, old_row jsonb, new_row jsonb) RETURNS boolean LANGUAGE sql STABLE AS $$
  SELECT coalesce(bool_and(EXISTS (SELECT FROM person_merge m WHERE to_jsonb(m.id) = o.value AND to_jsonb(m.into_id) = n.value
                                      AND m.moved IS NULL)), false)
    FROM jsonb_each(old_row) o JOIN jsonb_each(new_row) n USING (key)
   WHERE o.value IS DISTINCT FROM n.value
     AND key NOT IN (SELECT attname FROM pg_attribute WHERE attrelid = of_table AND attgenerated <> '')
$$;

-- The one exception: what never changes may still come to name the one person that two entries turned out to be.
CREATE OR REPLACE FUNCTION never_changes() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' THEN
    IF is_merge(TG_RELID, to_jsonb(OLD), to_jsonb(NEW)) THEN RETURN NEW; END IF;
  END IF;
  RAISE EXCEPTION '% is never changed or deleted', TG_TABLE_NAME USING ERRCODE = TG_ARGV[0];
END $$;

CREATE FUNCTION person_merge_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' THEN
    IF is_merge(TG_RELID, to_jsonb(OLD), to_jsonb(NEW))
       OR (OLD.moved IS NULL AND NEW.moved IS NOT NULL AND to_jsonb(NEW) - 'moved' = to_jsonb(OLD) - 'moved') THEN
      RETURN NEW;
    END IF;
  END IF;
  RAISE EXCEPTION 'the merge of person % stays as it is', OLD.id USING ERRCODE = 'WB027';
END $$;
CREATE TRIGGER person_merge_stays BEFORE UPDATE OR DELETE ON person_merge FOR EACH ROW EXECUTE FUNCTION person_merge_stays();

-- The books are the same before and after: nobody is left, and what one owes is what both did.
CREATE FUNCTION person_merge_adds_up() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  off bigint;
BEGIN
  SELECT m.balance_minor + m.into_balance_minor - (SELECT coalesce(sum(p.amount_minor), 0) FROM posting p WHERE p.person_id = m.into_id)
    INTO off FROM person_merge m WHERE m.id = NEW.id AND m.moved IS NOT NULL AND NOT EXISTS (SELECT FROM person p WHERE p.id = m.id);
  IF off IS DISTINCT FROM 0 THEN
    RAISE EXCEPTION 'the merge of person % is not whole, or off by %', NEW.id, off USING ERRCODE = 'WB027';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER person_merge_adds_up AFTER INSERT ON person_merge
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION person_merge_adds_up();

-- Nobody goes without leading on.
CREATE FUNCTION person_leads_on() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (SELECT FROM person_merge m WHERE m.id = OLD.id) THEN
    RAISE EXCEPTION 'person % is gone and leads nowhere', OLD.id USING ERRCODE = 'WB027';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER person_leads_on AFTER DELETE ON person
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION person_leads_on();

-- Moves every row that refers to one person to another, whichever tables there are, and says which rows those were.
CREATE FUNCTION move_person(gone uuid, stays uuid) RETURNS jsonb LANGUAGE plpgsql AS $$
DECLARE
  reference record;
  keys jsonb;
  moved jsonb := '{}';
BEGIN
  FOR reference IN
    SELECT f.conrelid::regclass AS called, a.attname AS col, k.attname AS key
      FROM pg_constraint f
      JOIN pg_attribute a ON a.attrelid = f.conrelid AND a.attnum = f.conkey[1]
      JOIN pg_constraint p ON p.conrelid = f.conrelid AND p.contype = 'p'
      JOIN pg_attribute k ON k.attrelid = f.conrelid AND k.attnum = p.conkey[1]
     WHERE f.contype = 'f' AND f.confrelid = 'person'::regclass ORDER BY 1, 2
  LOOP
    EXECUTE format('WITH m AS (UPDATE %s SET %2$I = $2 WHERE %2$I = $1 RETURNING %3$I AS key) SELECT jsonb_agg(key) FROM m',
                   reference.called, reference.col, reference.key) INTO keys USING gone, stays;
    IF keys IS NOT NULL THEN
      moved := moved || jsonb_build_object(reference.called::text || '.' || reference.col, keys);
    END IF;
  END LOOP;
  RETURN moved;
END $$;

-- What else goes one way may be moved too.
CREATE OR REPLACE FUNCTION waiting_entry_goes_on() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE'
     AND (NEW.id, NEW.course_id, NEW.person_id, NEW.places, NEW.note, NEW.since)
         IS NOT DISTINCT FROM (OLD.id, OLD.course_id, OLD.person_id, OLD.places, OLD.note, OLD.since)
     AND (OLD.offered_at IS NULL OR (NEW.offered_at, NEW.offered_until) IS NOT DISTINCT FROM (OLD.offered_at, OLD.offered_until))
     AND (OLD.ended_at IS NULL
          OR (OLD.booking_id IS NULL
              AND (NEW.offered_at, NEW.ended_at, NEW.ended) IS NOT DISTINCT FROM (OLD.offered_at, OLD.ended_at, OLD.ended)))
  THEN RETURN NEW; END IF;
  IF TG_OP = 'UPDATE' AND is_merge(TG_RELID, to_jsonb(OLD), to_jsonb(NEW)) THEN RETURN NEW; END IF;
  RAISE EXCEPTION 'waiting entry % was ended or offered before', OLD.id USING ERRCODE = 'WB014';
END $$;
CREATE OR REPLACE FUNCTION make_up_goes_on() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND OLD.ended_at IS NULL
     AND (NEW.id, NEW.booking_id, NEW.person_id, NEW.missed_session_id, NEW.session_id, NEW.made_at, NEW.made_by_id)
         IS NOT DISTINCT FROM (OLD.id, OLD.booking_id, OLD.person_id, OLD.missed_session_id, OLD.session_id, OLD.made_at, OLD.made_by_id)
  THEN RETURN NEW; END IF;
  IF TG_OP = 'UPDATE' AND is_merge(TG_RELID, to_jsonb(OLD), to_jsonb(NEW)) THEN RETURN NEW; END IF;
  RAISE EXCEPTION 'make-up % has ended', OLD.id USING ERRCODE = 'WB021';
END $$;

-- Two notes on health become one: the other is gone with the person whose it was.
CREATE OR REPLACE FUNCTION care_note_is_noted() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  whose uuid := CASE TG_OP WHEN 'DELETE' THEN OLD.person_id ELSE NEW.person_id END;
  did   care_note_event := CASE TG_OP WHEN 'INSERT' THEN 'added' WHEN 'UPDATE' THEN 'changed' ELSE 'removed' END;
BEGIN
  IF TG_OP = 'DELETE' AND EXISTS (SELECT FROM person_merge m WHERE m.id = whose) THEN RETURN NULL; END IF;
  IF (SELECT c.what FROM care_note_change c WHERE c.person_id = whose ORDER BY c.id DESC LIMIT 1) IS DISTINCT FROM did THEN
    RAISE EXCEPTION 'nobody says who % the care note of person %', did, whose USING ERRCODE = 'WB015';
  END IF;
  RETURN NULL;
END $$;

-- One bill per maker and firing, as it was billed: two entries of one maker may each have had one.
ALTER TABLE firing_charge ADD billed_id uuid; -- the person at that time
UPDATE firing_charge SET billed_id = person_id;
ALTER TABLE firing_charge ALTER billed_id SET NOT NULL,
  DROP CONSTRAINT firing_charge_firing_id_person_id_key,
  ADD CONSTRAINT firing_charge_firing_id_billed_id_key UNIQUE (firing_id, billed_id);
CREATE INDEX firing_charge_person_id_idx ON firing_charge (person_id);

-- The second wall behind bookings/take-places.ts: a person has one place on a course. The course's lock, which place_not_oversold has
-- taken before this, lets two writers see each other.
CREATE FUNCTION place_once() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM booking n JOIN booking b ON b.course_id = n.course_id AND b.cancelled_at IS NULL
               JOIN place p ON p.booking_id = b.id
              WHERE n.id = NEW.booking_id AND n.cancelled_at IS NULL AND p.person_id = NEW.person_id AND p.id <> NEW.id) THEN
    RAISE EXCEPTION 'person % has a place on the course of booking % already', NEW.person_id, NEW.booking_id USING ERRCODE = 'WB026';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER place_once AFTER INSERT OR UPDATE OF person_id ON place
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION place_once();

-- The walls around waiting and making up hold for somebody who was merged too.
CREATE CONSTRAINT TRIGGER merged_place_not_waiting AFTER UPDATE OF person_id ON place
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION place_not_waiting();
CREATE CONSTRAINT TRIGGER merged_waiting_without_place AFTER UPDATE OF person_id ON waiting_entry
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION place_not_waiting();
CREATE CONSTRAINT TRIGGER merged_make_up_fits AFTER UPDATE OF person_id ON make_up
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW WHEN (NEW.ended_at IS NULL) EXECUTE FUNCTION make_up_fits();
CREATE CONSTRAINT TRIGGER merged_place_makes_nothing_up AFTER UPDATE OF person_id ON place
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION place_makes_nothing_up();

-- Two people who look like one and are not: they are not suggested again.
CREATE TABLE two_people (
  one_id     uuid NOT NULL REFERENCES person,
  other_id   uuid NOT NULL REFERENCES person,
  noted_at   timestamptz(3) NOT NULL,
  noted_by_id uuid NOT NULL REFERENCES staff_member,
  PRIMARY KEY (one_id, other_id),
  CHECK (one_id < other_id)
);
CREATE INDEX two_people_other_id_idx ON two_people (other_id);
CREATE INDEX two_people_noted_by_id_idx ON two_people (noted_by_id);

-- What people who may be one have in common.
ALTER TABLE person
  ADD COLUMN email_key text COLLATE "C" GENERATED ALWAYS AS (lower(email)) STORED,
  ADD COLUMN phone_key text COLLATE "C" GENERATED ALWAYS AS (
    CASE WHEN length(regexp_replace(phone, '[^0-9]', '', 'g')) >= 9
         THEN right(regexp_replace(phone, '[^0-9]', '', 'g'), 9) END) STORED;
CREATE INDEX person_email_key_idx ON person (email_key) WHERE email_key IS NOT NULL;
CREATE INDEX person_phone_key_idx ON person (phone_key) WHERE phone_key IS NOT NULL;
