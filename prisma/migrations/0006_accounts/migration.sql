CREATE TYPE account_kind AS ENUM ('asset', 'liability', 'income');
CREATE TYPE charge_kind AS ENUM ('course', 'firing');
CREATE TYPE payment_method AS ENUM ('cash', 'card', 'transfer');

CREATE TABLE account (
  code text PRIMARY KEY CHECK (code ~ '^[a-z-]+$'),
  name text NOT NULL,
  kind account_kind NOT NULL
);
INSERT INTO account VALUES
  ('cash',              'Cash in the drawer', 'asset'),
  ('card',              'Card takings on their way', 'asset'),
  ('bank',              'Bank', 'asset'),
  ('receivable',        'Owed by people', 'asset'),
  ('billed-in-advance', 'Billed for what is still to come, unpaid', 'liability'),
  ('deposits-held',     'Paid for what is still to come, net of VAT', 'liability'),
  ('vat',               'VAT on sales', 'liability'),
  ('course-income',     'Courses', 'income'),
  ('firing-income',     'Firings', 'income');

CREATE TABLE journal_entry (
  id          uuid PRIMARY KEY,
  posted_on   date NOT NULL,
  at          timestamptz(3) NOT NULL,
  description text NOT NULL CHECK (description <> ''),
  corrects_id uuid REFERENCES journal_entry
);

CREATE TABLE posting (
  id           uuid PRIMARY KEY,
  entry_id     uuid NOT NULL REFERENCES journal_entry,
  account_code text NOT NULL REFERENCES account,
  person_id    uuid REFERENCES person,
  amount_minor integer NOT NULL CHECK (amount_minor <> 0), -- debit above zero, credit below
  CHECK ((account_code = 'receivable') = (person_id IS NOT NULL))
);
CREATE INDEX posting_entry_id_idx ON posting (entry_id);
CREATE INDEX posting_account_code_idx ON posting (account_code);

CREATE FUNCTION entry_balances() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  entry uuid := CASE TG_TABLE_NAME WHEN 'posting' THEN (to_jsonb(NEW) ->> 'entry_id')::uuid ELSE (to_jsonb(NEW) ->> 'id')::uuid END;
  off bigint;
  lines integer;
BEGIN
  SELECT coalesce(sum(amount_minor), 0), count(*) INTO off, lines FROM posting WHERE entry_id = entry;
  IF off <> 0 OR lines < 2 THEN
    RAISE EXCEPTION 'journal entry % is off by % over % lines', entry, off, lines USING ERRCODE = 'WB004';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER entry_balances AFTER INSERT ON journal_entry
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION entry_balances();
CREATE CONSTRAINT TRIGGER posting_balances AFTER INSERT ON posting
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION entry_balances();
CREATE TRIGGER journal_entry_never_changes BEFORE UPDATE OR DELETE ON journal_entry
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');
CREATE TRIGGER posting_never_changes BEFORE UPDATE OR DELETE ON posting
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- One supply at one price and one tax; paid in instalments, which are parts of it.
CREATE TABLE charge (
  id          uuid PRIMARY KEY,
  person_id   uuid NOT NULL REFERENCES person,
  kind        charge_kind NOT NULL,
  description text NOT NULL CHECK (description <> ''),
  gross_minor integer NOT NULL CHECK (gross_minor > 0),
  tax_name    text NOT NULL,
  tax_kind    tax_kind NOT NULL,
  tax_percent numeric(6, 3) CHECK ((tax_kind = 'standard') = (tax_percent IS NOT NULL)),
  in_advance  boolean NOT NULL, -- billed before it is supplied
  charged_on  date NOT NULL,
  entry_id    uuid NOT NULL UNIQUE REFERENCES journal_entry
);
CREATE INDEX charge_person_id_idx ON charge (person_id);
CREATE TRIGGER charge_never_changes BEFORE UPDATE OR DELETE ON charge
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

CREATE TABLE instalment (
  charge_id    uuid NOT NULL REFERENCES charge,
  due_on       date NOT NULL,
  amount_minor integer NOT NULL CHECK (amount_minor > 0),
  PRIMARY KEY (charge_id, due_on)
);

-- A charge that was billed in advance and has since been supplied (or kept, after a late cancellation).
CREATE TABLE supply (
  charge_id   uuid PRIMARY KEY REFERENCES charge,
  supplied_on date NOT NULL,
  entry_id    uuid UNIQUE REFERENCES journal_entry -- none where nothing was left to move
);
CREATE TRIGGER supply_never_changes BEFORE UPDATE OR DELETE ON supply
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- What is no longer asked for, of a charge.
CREATE TABLE credit (
  id           uuid PRIMARY KEY,
  charge_id    uuid NOT NULL REFERENCES charge,
  amount_minor integer NOT NULL CHECK (amount_minor > 0),
  reason       text NOT NULL CHECK (reason <> ''),
  credited_on  date NOT NULL,
  entry_id     uuid NOT NULL UNIQUE REFERENCES journal_entry
);
CREATE INDEX credit_charge_id_idx ON credit (charge_id);
CREATE TRIGGER credit_never_changes BEFORE UPDATE OR DELETE ON credit
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- Money that came in (above zero) or was paid back (below).
CREATE TABLE payment (
  id           uuid PRIMARY KEY,
  person_id    uuid NOT NULL REFERENCES person,
  amount_minor integer NOT NULL CHECK (amount_minor <> 0),
  method       payment_method NOT NULL,
  received_on  date NOT NULL,
  at           timestamptz(3) NOT NULL,
  entry_id     uuid NOT NULL UNIQUE REFERENCES journal_entry
);
CREATE INDEX payment_person_id_idx ON payment (person_id);
CREATE TRIGGER payment_never_changes BEFORE UPDATE OR DELETE ON payment
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

CREATE TABLE allocation (
  payment_id   uuid NOT NULL REFERENCES payment,
  charge_id    uuid NOT NULL REFERENCES charge,
  amount_minor integer NOT NULL CHECK (amount_minor <> 0),
  PRIMARY KEY (payment_id, charge_id)
);
CREATE INDEX allocation_charge_id_idx ON allocation (charge_id);
CREATE TRIGGER allocation_never_changes BEFORE UPDATE OR DELETE ON allocation
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- Nobody pays more than is asked, nobody gets back more than was paid, and every payment is for something.
CREATE FUNCTION charge_not_overpaid() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  asked bigint;
  paid bigint;
BEGIN
  PERFORM 1 FROM charge WHERE id = NEW.charge_id FOR UPDATE;
  SELECT gross_minor - (SELECT coalesce(sum(amount_minor), 0) FROM credit WHERE charge_id = NEW.charge_id),
         (SELECT coalesce(sum(amount_minor), 0) FROM allocation WHERE charge_id = NEW.charge_id)
    INTO asked, paid FROM charge WHERE id = NEW.charge_id;
  IF asked < 0 OR paid < 0 OR paid > asked THEN
    RAISE EXCEPTION 'charge %: % asked, % paid', NEW.charge_id, asked, paid USING ERRCODE = 'WB004';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER charge_not_overpaid AFTER INSERT ON allocation
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION charge_not_overpaid();
CREATE CONSTRAINT TRIGGER charge_not_overcredited AFTER INSERT ON credit
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION charge_not_overpaid();

CREATE FUNCTION payment_is_for_something() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  off bigint;
BEGIN
  SELECT NEW.amount_minor - coalesce(sum(amount_minor), 0) INTO off FROM allocation WHERE payment_id = NEW.id;
  IF off <> 0 THEN
    RAISE EXCEPTION 'payment %: % is for nothing', NEW.id, off USING ERRCODE = 'WB004';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER payment_is_for_something AFTER INSERT ON payment
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION payment_is_for_something();

CREATE FUNCTION instalments_add_up() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  off bigint;
BEGIN
  SELECT NEW.gross_minor - coalesce(sum(amount_minor), 0) INTO off FROM instalment WHERE charge_id = NEW.id;
  IF off <> 0 THEN
    RAISE EXCEPTION 'charge %: its instalments are off by %', NEW.id, off USING ERRCODE = 'WB001';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER instalments_add_up AFTER INSERT ON charge
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION instalments_add_up();
CREATE TRIGGER instalment_never_changes BEFORE UPDATE OR DELETE ON instalment
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- A sequence would leave a gap at every rollback; this row is locked until the issuing transaction ends, so it is taken last.
CREATE TABLE number_series (
  series      text PRIMARY KEY CHECK (series ~ '^[A-Z]{1,3}$'),
  last_number integer NOT NULL CHECK (last_number >= 0)
);
INSERT INTO number_series VALUES ('R', 0), ('C', 0);

CREATE FUNCTION numbered_without_gaps() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  previous integer;
BEGIN
  EXECUTE format('SELECT coalesce(max(number), 0) FROM %I WHERE series = $1 AND number < $2', TG_TABLE_NAME)
    INTO previous USING NEW.series, NEW.number;
  IF NEW.number <> previous + 1 THEN
    RAISE EXCEPTION '% %-%: a number is missing before it', TG_TABLE_NAME, NEW.series, NEW.number USING ERRCODE = 'WB005';
  END IF;
  RETURN NULL;
END $$;

CREATE TABLE receipt (
  series      text NOT NULL REFERENCES number_series,
  number      integer NOT NULL CHECK (number > 0),
  payment_id  uuid NOT NULL UNIQUE REFERENCES payment,
  document_id uuid NOT NULL UNIQUE REFERENCES document,
  PRIMARY KEY (series, number)
);
CREATE CONSTRAINT TRIGGER receipt_numbered_without_gaps AFTER INSERT ON receipt
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION numbered_without_gaps();
CREATE TRIGGER receipt_never_changes BEFORE UPDATE OR DELETE ON receipt
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB005');

CREATE TABLE credit_note (
  series      text NOT NULL REFERENCES number_series,
  number      integer NOT NULL CHECK (number > 0),
  credit_id   uuid NOT NULL UNIQUE REFERENCES credit,
  document_id uuid NOT NULL UNIQUE REFERENCES document,
  PRIMARY KEY (series, number)
);
CREATE CONSTRAINT TRIGGER credit_note_numbered_without_gaps AFTER INSERT ON credit_note
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION numbered_without_gaps();
CREATE TRIGGER credit_note_never_changes BEFORE UPDATE OR DELETE ON credit_note
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB005');
