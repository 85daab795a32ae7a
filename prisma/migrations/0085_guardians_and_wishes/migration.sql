-- A child has guardians: who is rung, and who reads the letters about their place. Wishes and a note for the studio are kept with a
-- person, apart from what they told about their health.
ALTER TABLE person
  ADD is_child boolean NOT NULL DEFAULT false,
  ADD wishes   text CHECK (wishes <> '' AND length(wishes) <= 1000),
  ADD note     text CHECK (note <> '' AND length(note) <= 1000),
  ADD also     text; -- names, addresses and numbers of entries that were merged into this one: they are found by them too

CREATE TABLE guardian (
  child_id    uuid NOT NULL REFERENCES person,
  guardian_id uuid NOT NULL REFERENCES person,
  ordinal     integer NOT NULL CHECK (ordinal BETWEEN 1 AND 8), -- who is rung first; four, until two entries of a child are merged
  PRIMARY KEY (child_id, guardian_id),
  UNIQUE (child_id, ordinal),
  CHECK (child_id <> guardian_id)
);
CREATE INDEX guardian_guardian_id_idx ON guardian (guardian_id);

-- The second wall behind people/guardians.ts: a guardian is grown up, and nobody else has one. Judged last, since a merge moves both.
CREATE FUNCTION guardian_fits() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM guardian g JOIN person c ON c.id = g.child_id JOIN person a ON a.id = g.guardian_id
              WHERE (a.id = (to_jsonb(NEW) ->> 'id')::uuid OR c.id = (to_jsonb(NEW) ->> 'child_id')::uuid) AND (a.is_child OR NOT c.is_child)) THEN
    RAISE EXCEPTION 'a guardian is a child, or has none' USING ERRCODE = 'WB028';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER guardian_fits AFTER INSERT OR UPDATE ON guardian
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION guardian_fits();
CREATE CONSTRAINT TRIGGER child_is_no_guardian AFTER UPDATE OF is_child ON person
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (NEW.is_child AND NOT OLD.is_child) EXECUTE FUNCTION guardian_fits();

-- Whose are no longer a child's are nobody's guardians any more.
CREATE FUNCTION grown_up_has_no_guardians() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM guardian WHERE child_id = NEW.id;
  RETURN NULL;
END $$;
CREATE TRIGGER grown_up_has_no_guardians AFTER UPDATE OF is_child ON person
  FOR EACH ROW WHEN (OLD.is_child AND NOT NEW.is_child) EXECUTE FUNCTION grown_up_has_no_guardians();

DROP INDEX person_search_idx;
ALTER TABLE person DROP COLUMN search;
ALTER TABLE person ADD COLUMN search text GENERATED ALWAYS AS (
  search_text(name || ' ' || coalesce(paper_name, '') || ' ' || coalesce(email, '') || ' ' || coalesce(phone, '') || ' ' || coalesce(also, ''))
  || ' ' || regexp_replace(coalesce(phone, ''), '[^0-9]', '', 'g')) STORED;
CREATE INDEX person_search_idx ON person USING gin (search gin_trgm_ops);
