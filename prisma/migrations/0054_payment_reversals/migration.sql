ALTER TYPE notice_occasion ADD VALUE 'paymentReversed';

-- A payment that was entered by mistake, and the payment below zero that takes it back: whole, once, for the same charges.
CREATE TABLE payment_reversal (
  payment_id  uuid PRIMARY KEY REFERENCES payment,
  reversal_id uuid NOT NULL UNIQUE REFERENCES payment,
  reason      text NOT NULL CHECK (reason <> ''),
  CHECK (payment_id <> reversal_id)
);
CREATE TRIGGER payment_reversal_never_changes BEFORE UPDATE OR DELETE ON payment_reversal
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

CREATE FUNCTION reversal_mirrors_its_payment() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (
    SELECT FROM payment p JOIN payment r ON r.id = NEW.reversal_id
     WHERE p.id = NEW.payment_id AND (p.amount_minor < 0 OR r.amount_minor <> -p.amount_minor OR r.person_id <> p.person_id OR r.method <> p.method))
    OR EXISTS (
    SELECT FROM allocation a WHERE a.payment_id IN (NEW.payment_id, NEW.reversal_id)
     GROUP BY a.charge_id HAVING sum(a.amount_minor) <> 0) THEN
    RAISE EXCEPTION 'payment % is not what takes back payment %', NEW.reversal_id, NEW.payment_id USING ERRCODE = 'WB004';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER reversal_mirrors_its_payment AFTER INSERT ON payment_reversal
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION reversal_mirrors_its_payment();

-- The receipt of such a payment is taken back by a credit note, which credits no charge: what it was for is asked for as before.
ALTER TABLE credit_note
  ALTER credit_id DROP NOT NULL,
  ADD reversal_of uuid UNIQUE REFERENCES payment_reversal,
  ADD CONSTRAINT credit_note_of_one_thing CHECK (num_nonnulls(credit_id, reversal_of) = 1);
