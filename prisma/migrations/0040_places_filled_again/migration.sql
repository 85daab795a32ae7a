-- What was given up on a course, in the order of cancelling. With each place that is filled again its part of what was kept falls due
-- to be paid back.
CREATE TABLE given_up (
  booking_id    uuid PRIMARY KEY REFERENCES booking,
  course_id     uuid NOT NULL REFERENCES course,
  ordinal       integer NOT NULL CHECK (ordinal > 0),
  places        integer NOT NULL CHECK (places > 0), -- a group in a private session is one
  further_minor integer NOT NULL CHECK (further_minor >= 0), -- for all of them
  UNIQUE (course_id, ordinal)
);
CREATE TRIGGER given_up_never_changes BEFORE UPDATE OR DELETE ON given_up
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

CREATE TABLE place_refill (
  id           uuid PRIMARY KEY,
  booking_id   uuid NOT NULL REFERENCES given_up,
  places       integer NOT NULL CHECK (places > 0),
  amount_minor integer NOT NULL CHECK (amount_minor >= 0),
  filled_at    timestamptz(3) NOT NULL,
  notice_id    uuid UNIQUE REFERENCES notice,
  CHECK ((amount_minor > 0) = (notice_id IS NOT NULL)) -- somebody to whom something is due hears of it
);
CREATE INDEX place_refill_booking_id_idx ON place_refill (booking_id);
CREATE TRIGGER place_refill_never_changes BEFORE UPDATE OR DELETE ON place_refill
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- Each is paid back once, with the credit that takes it off what was kept.
CREATE TABLE refill_refund (
  refill_id uuid PRIMARY KEY REFERENCES place_refill,
  credit_id uuid NOT NULL REFERENCES credit
);
CREATE INDEX refill_refund_credit_id_idx ON refill_refund (credit_id);
CREATE TRIGGER refill_refund_never_changes BEFORE UPDATE OR DELETE ON refill_refund
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- With how many places taken a course began: noted once, for courses on which something was given up.
CREATE TABLE course_beginning (
  course_id uuid PRIMARY KEY REFERENCES course,
  taken     integer NOT NULL CHECK (taken >= 0),
  noted_at  timestamptz(3) NOT NULL
);
CREATE TRIGGER course_beginning_never_changes BEFORE UPDATE OR DELETE ON course_beginning
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- The second wall behind bookings/given-up.ts: no more is filled, and no more falls due, than was given up.
CREATE FUNCTION refill_fits() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  places_left bigint;
  minor_left bigint;
BEGIN
  SELECT places, further_minor INTO places_left, minor_left FROM given_up g WHERE g.booking_id = NEW.booking_id FOR NO KEY UPDATE;
  SELECT places_left - sum(places), minor_left - sum(amount_minor) INTO places_left, minor_left
    FROM place_refill r WHERE r.booking_id = NEW.booking_id;
  IF places_left < 0 OR minor_left < 0 THEN
    RAISE EXCEPTION 'booking % gave up fewer places, or less is due', NEW.booking_id USING ERRCODE = 'WB001';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER refill_fits AFTER INSERT ON place_refill FOR EACH ROW EXECUTE FUNCTION refill_fits();

CREATE FUNCTION refill_refund_adds_up() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (
    SELECT FROM credit c, LATERAL (
      SELECT sum(p.amount_minor) AS minor, bool_and(b.charge_id = c.charge_id) AS own
        FROM refill_refund r JOIN place_refill p ON p.id = r.refill_id JOIN booking b ON b.id = p.booking_id
       WHERE r.credit_id = c.id) s
     WHERE c.id = NEW.credit_id AND (s.minor <> c.amount_minor OR NOT s.own)) THEN
    RAISE EXCEPTION 'credit % is not what its refills add up to', NEW.credit_id USING ERRCODE = 'WB001';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER refill_refund_adds_up AFTER INSERT ON refill_refund
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION refill_refund_adds_up();
