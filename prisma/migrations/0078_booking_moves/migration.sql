-- A booking is moved to another course: it ends, and another one begins. What was paid is carried over to the new charge by two payments
-- that no money moves for, one below zero and one above, each with the papers and the VAT of its own charge.
ALTER TYPE payment_method ADD VALUE 'carried';
ALTER TYPE notice_occasion ADD VALUE 'bookingMoved';

ALTER TABLE booking
  ADD moved_to_id uuid UNIQUE REFERENCES booking,
  ADD CONSTRAINT booking_moved_has_ended CHECK (moved_to_id IS NULL OR (cancelled_at IS NOT NULL AND moved_to_id <> id));

-- What a move came to, as it was then.
CREATE TABLE booking_move (
  booking_id    uuid PRIMARY KEY REFERENCES booking,
  to_id         uuid NOT NULL UNIQUE REFERENCES booking,
  moved_at      timestamptz(3) NOT NULL,
  moved_by_id   uuid NOT NULL REFERENCES staff_member,
  carried_minor integer NOT NULL CHECK (carried_minor >= 0), -- of what was paid, what pays for the new booking
  refund_minor  integer NOT NULL CHECK (refund_minor >= 0),
  kept_minor    integer NOT NULL CHECK (kept_minor >= 0)     -- a fee that the owner decided
);
CREATE INDEX booking_move_moved_by_id_idx ON booking_move (moved_by_id);
CREATE TRIGGER booking_move_never_changes BEFORE UPDATE OR DELETE ON booking_move
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

CREATE TABLE payment_carry (
  out_id uuid PRIMARY KEY REFERENCES payment,
  in_id  uuid NOT NULL UNIQUE REFERENCES payment
);
CREATE TRIGGER payment_carry_never_changes BEFORE UPDATE OR DELETE ON payment_carry
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- What it was paid with: a refund of it goes back the same way, on a voucher what one paid.
CREATE TABLE payment_carry_part (
  out_id       uuid NOT NULL REFERENCES payment_carry,
  ordinal      integer NOT NULL,
  voucher_id   uuid REFERENCES voucher, -- NULL for money
  amount_minor integer NOT NULL CHECK (amount_minor > 0),
  PRIMARY KEY (out_id, ordinal)
);
CREATE INDEX payment_carry_part_voucher_id_idx ON payment_carry_part (voucher_id);
CREATE TRIGGER payment_carry_part_never_changes BEFORE UPDATE OR DELETE ON payment_carry_part
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- The second wall behind accounts/payments/carry.ts: what leaves one charge comes to another of the same person, on the same day, and
-- nothing is carried otherwise.
CREATE FUNCTION carry_balances() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  wanted uuid := CASE TG_TABLE_NAME WHEN 'payment' THEN (to_jsonb(NEW) ->> 'id')::uuid ELSE (to_jsonb(NEW) ->> 'out_id')::uuid END;
BEGIN
  IF NOT EXISTS (
    SELECT FROM payment_carry c JOIN payment o ON o.id = c.out_id JOIN payment i ON i.id = c.in_id
     WHERE wanted IN (c.out_id, c.in_id) AND o.method = 'carried' AND i.method = 'carried'
       AND i.amount_minor > 0 AND o.amount_minor = -i.amount_minor AND o.person_id = i.person_id AND o.received_on = i.received_on
       AND i.amount_minor = (SELECT sum(p.amount_minor) FROM payment_carry_part p WHERE p.out_id = c.out_id)) THEN
    RAISE EXCEPTION 'what is carried by payment % does not balance', wanted USING ERRCODE = 'WB004';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER carried_payment_balances AFTER INSERT ON payment
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (NEW.method::text = 'carried') EXECUTE FUNCTION carry_balances();
CREATE CONSTRAINT TRIGGER carry_balances AFTER INSERT ON payment_carry
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION carry_balances();
CREATE CONSTRAINT TRIGGER carry_part_balances AFTER INSERT ON payment_carry_part
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION carry_balances();

-- The second wall behind bookings/move-booking.ts: the old booking ends as the new one begins, of the same payer, on another course, for
-- the same people; what is carried is what the two charges say; and a booking says that it was moved where there is a move, and only there.
CREATE FUNCTION booking_move_fits() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  moved uuid := CASE TG_TABLE_NAME WHEN 'booking' THEN (to_jsonb(NEW) ->> 'id')::uuid ELSE (to_jsonb(NEW) ->> 'booking_id')::uuid END;
BEGIN
  IF NOT EXISTS (
    SELECT FROM booking_move m JOIN booking b ON b.id = m.booking_id JOIN booking n ON n.id = m.to_id
     WHERE m.booking_id = moved AND b.moved_to_id = n.id AND b.course_id <> n.course_id AND b.payer_id = n.payer_id
       AND b.cancelled_at = m.moved_at AND n.booked_at = m.moved_at
       AND m.carried_minor = (SELECT coalesce(sum(a.amount_minor), 0) FROM allocation a JOIN payment p ON p.id = a.payment_id
                               WHERE a.charge_id = n.charge_id AND p.method = 'carried' AND p.amount_minor > 0)
       AND m.carried_minor = (SELECT coalesce(-sum(a.amount_minor), 0) FROM allocation a JOIN payment p ON p.id = a.payment_id
                               WHERE a.charge_id = b.charge_id AND p.method = 'carried' AND p.amount_minor < 0)
       AND NOT EXISTS (SELECT FROM place p WHERE p.booking_id = b.id
                          AND NOT EXISTS (SELECT FROM place q WHERE q.booking_id = n.id AND q.person_id = p.person_id))) THEN
    RAISE EXCEPTION 'booking % is not moved as it says', moved USING ERRCODE = 'WB004';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER booking_move_fits AFTER INSERT ON booking_move
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION booking_move_fits();
CREATE CONSTRAINT TRIGGER booking_is_moved AFTER INSERT OR UPDATE OF moved_to_id ON booking
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (NEW.moved_to_id IS NOT NULL) EXECUTE FUNCTION booking_move_fits();
