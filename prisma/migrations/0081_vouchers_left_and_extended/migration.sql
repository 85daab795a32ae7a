-- What is left on vouchers, kept by a trigger: nobody adds up all moves to find those that can be used.
CREATE TABLE open_voucher (
  voucher_id uuid PRIMARY KEY REFERENCES voucher,
  left_minor integer NOT NULL CHECK (left_minor > 0)
);
INSERT INTO open_voucher
  SELECT voucher_id, sum(amount_minor) FROM voucher_move GROUP BY voucher_id HAVING sum(amount_minor) > 0;

CREATE FUNCTION keep_open_voucher() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM voucher WHERE id = NEW.voucher_id FOR UPDATE; -- of two at once, the later one counts both
  DELETE FROM open_voucher WHERE voucher_id = NEW.voucher_id;
  INSERT INTO open_voucher
    SELECT NEW.voucher_id, sum(amount_minor) FROM voucher_move WHERE voucher_id = NEW.voucher_id HAVING sum(amount_minor) > 0;
  RETURN NULL;
END $$;
CREATE TRIGGER voucher_move_is_open AFTER INSERT ON voucher_move FOR EACH ROW EXECUTE FUNCTION keep_open_voucher();

-- A later last day, with its own paper. The latest counts; the voucher itself stays as it was sold.
CREATE TABLE voucher_extension (
  id          uuid PRIMARY KEY,
  voucher_id  uuid NOT NULL REFERENCES voucher,
  at          timestamptz(3) NOT NULL,
  made_by_id  uuid NOT NULL REFERENCES staff_member,
  valid_until date NOT NULL CHECK (valid_until BETWEEN '2000-01-01' AND '2099-12-31'),
  reason      text NOT NULL CHECK (reason <> ''),
  document_id uuid NOT NULL UNIQUE REFERENCES document
);
CREATE INDEX voucher_extension_voucher_id_id_idx ON voucher_extension (voucher_id, id);
CREATE INDEX voucher_extension_made_by_id_idx ON voucher_extension (made_by_id);
CREATE TRIGGER voucher_extension_never_changes BEFORE UPDATE OR DELETE ON voucher_extension
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- The second wall behind vouchers/extension.ts.
CREATE FUNCTION voucher_is_extended() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  before date;
BEGIN
  PERFORM 1 FROM voucher WHERE id = NEW.voucher_id FOR UPDATE;
  SELECT coalesce((SELECT max(e.valid_until) FROM voucher_extension e WHERE e.voucher_id = v.id), v.valid_until)
    INTO before FROM voucher v WHERE v.id = NEW.voucher_id;
  IF before IS NULL OR NEW.valid_until <= before THEN
    RAISE EXCEPTION 'voucher %: % is not later than %', NEW.voucher_id, NEW.valid_until, before USING ERRCODE = 'WB004';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER voucher_is_extended BEFORE INSERT ON voucher_extension FOR EACH ROW EXECUTE FUNCTION voucher_is_extended();
