-- The charges on which something is owed, held places included: of all that were ever made they are few. Kept by the triggers below.
CREATE TABLE open_charge (
  charge_id uuid PRIMARY KEY REFERENCES charge
);
INSERT INTO open_charge
  SELECT id FROM charge c
   WHERE gross_minor > (SELECT coalesce(sum(amount_minor), 0) FROM credit WHERE charge_id = c.id)
                     + (SELECT coalesce(sum(amount_minor), 0) FROM allocation WHERE charge_id = c.id);

CREATE FUNCTION keep_open_charge() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  charged uuid := CASE TG_TABLE_NAME WHEN 'charge' THEN (to_jsonb(NEW) ->> 'id')::uuid ELSE (to_jsonb(NEW) ->> 'charge_id')::uuid END;
  owed bigint;
BEGIN
  PERFORM 1 FROM charge WHERE id = charged FOR UPDATE; -- of two at once, the later one counts both
  SELECT gross_minor - (SELECT coalesce(sum(amount_minor), 0) FROM credit WHERE charge_id = charged)
                     - (SELECT coalesce(sum(amount_minor), 0) FROM allocation WHERE charge_id = charged)
    INTO owed FROM charge WHERE id = charged;
  IF owed > 0 THEN
    INSERT INTO open_charge VALUES (charged) ON CONFLICT DO NOTHING;
  ELSE
    DELETE FROM open_charge WHERE charge_id = charged;
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER charge_is_open AFTER INSERT ON charge FOR EACH ROW EXECUTE FUNCTION keep_open_charge();
CREATE TRIGGER allocation_settles AFTER INSERT ON allocation FOR EACH ROW EXECUTE FUNCTION keep_open_charge();
CREATE TRIGGER credit_settles AFTER INSERT ON credit FOR EACH ROW EXECUTE FUNCTION keep_open_charge();

-- What became of a message: the outcome of its last delivery. Its words never change.
CREATE TYPE notice_state AS ENUM ('waiting', 'sent', 'written', 'failed', 'noAddress');
DROP TRIGGER notice_never_changes ON notice;
ALTER TABLE notice ADD COLUMN state notice_state NOT NULL DEFAULT 'waiting';
UPDATE notice n SET state = d.outcome::text::notice_state
  FROM (SELECT DISTINCT ON (notice_id) notice_id, outcome FROM delivery ORDER BY notice_id, id DESC) d WHERE d.notice_id = n.id;
CREATE TRIGGER notice_never_changes
  BEFORE UPDATE OF id, person_id, occasion, data, document_id, message_id, created_at OR DELETE ON notice
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB009');
CREATE INDEX notice_state_idx ON notice (state, created_at, id);

CREATE FUNCTION keep_notice_state() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE notice SET state = NEW.outcome::text::notice_state WHERE id = NEW.notice_id;
  RETURN NULL;
END $$;
CREATE TRIGGER delivery_is_the_state AFTER INSERT ON delivery FOR EACH ROW EXECUTE FUNCTION keep_notice_state();
