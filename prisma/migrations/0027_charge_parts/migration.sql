-- What of a charge bears another tax than the rest of it, which bears the charge's own. One part for each other tax.
CREATE TABLE charge_part (
  charge_id   uuid NOT NULL REFERENCES charge,
  ordinal     integer NOT NULL CHECK (ordinal BETWEEN 1 AND 10),
  label       text NOT NULL CHECK (label <> ''),
  tax_name    text NOT NULL,
  tax_kind    tax_kind NOT NULL,
  tax_percent numeric(6, 3) CHECK ((tax_kind = 'standard') = (tax_percent IS NOT NULL)),
  gross_minor integer NOT NULL CHECK (gross_minor > 0),
  PRIMARY KEY (charge_id, ordinal)
);
CREATE TRIGGER charge_part_never_changes BEFORE UPDATE OR DELETE ON charge_part
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- The parts are no more than the whole, and as old as it: a part that came later would change the VAT of what was paid before.
CREATE FUNCTION charge_parts_fit() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  rest bigint;
BEGIN
  SELECT gross_minor - (SELECT coalesce(sum(gross_minor), 0) FROM charge_part WHERE charge_id = NEW.charge_id)
    INTO rest FROM charge WHERE id = NEW.charge_id FOR UPDATE;
  IF rest < 0 THEN
    RAISE EXCEPTION 'charge %: its parts are % too much', NEW.charge_id, -rest USING ERRCODE = 'WB001';
  END IF;
  IF EXISTS (SELECT 1 FROM allocation WHERE charge_id = NEW.charge_id)
     OR EXISTS (SELECT 1 FROM credit WHERE charge_id = NEW.charge_id)
     OR EXISTS (SELECT 1 FROM supply WHERE charge_id = NEW.charge_id) THEN
    RAISE EXCEPTION 'charge % has been paid, credited or supplied', NEW.charge_id USING ERRCODE = 'WB004';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER charge_parts_fit AFTER INSERT ON charge_part
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION charge_parts_fit();
