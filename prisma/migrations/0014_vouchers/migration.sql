ALTER TYPE payment_method ADD VALUE 'voucher';
ALTER TYPE document_kind ADD VALUE 'voucher';
ALTER TYPE notice_occasion ADD VALUE 'voucher';
CREATE TYPE voucher_move_kind AS ENUM ('sold', 'used', 'returned', 'lapsed');

INSERT INTO account VALUES
  ('vouchers-outstanding', 'Vouchers not used yet, net of VAT that was due when sold', 'liability'),
  ('vouchers-lapsed',      'Vouchers that lapsed unused', 'income');

-- A promise to supply for its sum. With a tax it is of a single purpose, taxed when sold; without, taxed when used.
CREATE TABLE voucher (
  id           uuid PRIMARY KEY,
  code         text NOT NULL UNIQUE CHECK (code ~ '^[23457ACFHJKMNRTXY]{10}$'),
  buyer_id     uuid NOT NULL REFERENCES person,
  amount_minor integer NOT NULL CHECK (amount_minor > 0),
  for_whom     text CHECK (for_whom <> ''),
  good_for     text CHECK (good_for <> ''),
  tax_name     text CHECK ((tax_name IS NULL) = (tax_kind IS NULL)),
  tax_kind     tax_kind,
  tax_percent  numeric(6, 3) CHECK ((tax_kind IS NOT DISTINCT FROM 'standard') = (tax_percent IS NOT NULL)),
  issued_on    date NOT NULL,
  valid_until  date CHECK (valid_until >= issued_on),
  document_id  uuid NOT NULL UNIQUE REFERENCES document
);
CREATE INDEX voucher_buyer_id_idx ON voucher (buyer_id);
CREATE TRIGGER voucher_never_changes BEFORE UPDATE OR DELETE ON voucher
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- What is left on a voucher is the sum of its moves: in above zero, out below.
CREATE TABLE voucher_move (
  id           uuid PRIMARY KEY,
  voucher_id   uuid NOT NULL REFERENCES voucher,
  kind         voucher_move_kind NOT NULL,
  amount_minor integer NOT NULL CHECK (amount_minor <> 0 AND (kind IN ('sold', 'returned')) = (amount_minor > 0)),
  moved_on     date NOT NULL,
  entry_id     uuid NOT NULL UNIQUE REFERENCES journal_entry -- that of its payment, where there is one
);
CREATE INDEX voucher_move_voucher_id_idx ON voucher_move (voucher_id);
CREATE TRIGGER voucher_move_never_changes BEFORE UPDATE OR DELETE ON voucher_move
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

CREATE FUNCTION voucher_holds_its_moves() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  face bigint;
  rest bigint;
BEGIN
  SELECT amount_minor INTO face FROM voucher WHERE id = NEW.voucher_id FOR UPDATE;
  SELECT coalesce(sum(amount_minor), 0) INTO rest FROM voucher_move WHERE voucher_id = NEW.voucher_id;
  IF rest < 0 OR rest > face THEN
    RAISE EXCEPTION 'voucher % of % holds %', NEW.voucher_id, face, rest USING ERRCODE = 'WB004';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER voucher_holds_its_moves AFTER INSERT ON voucher_move
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION voucher_holds_its_moves();

-- A payment is for charges or buys a voucher; one by voucher moves that voucher by as much.
CREATE OR REPLACE FUNCTION payment_is_for_something() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  off bigint;
  moved bigint;
BEGIN
  SELECT NEW.amount_minor - coalesce(sum(amount_minor), 0) INTO off FROM allocation WHERE payment_id = NEW.id;
  SELECT coalesce(sum(amount_minor), 0) INTO moved FROM voucher_move WHERE entry_id = NEW.entry_id;
  IF off <> (CASE WHEN NEW.method::text = 'voucher' THEN 0 ELSE moved END) THEN
    RAISE EXCEPTION 'payment %: % is for nothing', NEW.id, off - moved USING ERRCODE = 'WB004';
  END IF;
  IF NEW.method::text = 'voucher' AND moved <> -NEW.amount_minor THEN
    RAISE EXCEPTION 'payment %: its voucher moved by %', NEW.id, moved USING ERRCODE = 'WB004';
  END IF;
  RETURN NULL;
END $$;
