-- One of several places of a booking can be cancelled. It leaves `place`, so that nothing counts it any more, and what became of it is
-- kept here. What each place costs is kept with it from now on, since a course's prices change: what a part payment paid of a place is
-- worked out by it.
ALTER TABLE place
  ADD price_minor   integer CHECK (price_minor >= 0), -- NULL in a private session, whose group has one price
  ADD deposit_minor integer CHECK (deposit_minor BETWEEN 0 AND price_minor),
  ADD CONSTRAINT place_price_check CHECK ((price_minor IS NULL) = (deposit_minor IS NULL));

ALTER TABLE place DISABLE TRIGGER USER; -- no place is taken or left
WITH full_price AS (
  SELECT b.id, (c.gross_minor - coalesce(sum(k.price_minor), 0)) / greatest(1, count(*) FILTER (WHERE k.id IS NULL)) AS each_minor
    FROM booking b JOIN charge c ON c.id = b.charge_id JOIN place p ON p.booking_id = b.id
    LEFT JOIN course_concession k ON k.id = p.concession_id GROUP BY b.id, c.gross_minor)
UPDATE place p
   SET price_minor = coalesce(k.price_minor, f.each_minor),
       deposit_minor = CASE WHEN k.payments = 1 AND o.deposit_minor > 0 THEN k.price_minor
                            ELSE least(coalesce(k.price_minor, f.each_minor), o.deposit_minor) END
  FROM place q JOIN full_price f ON f.id = q.booking_id JOIN booking b ON b.id = q.booking_id
  JOIN course o ON o.id = b.course_id JOIN course_plan n ON n.id = o.plan_id LEFT JOIN course_concession k ON k.id = q.concession_id
 WHERE q.id = p.id AND n.kind <> 'private' AND f.each_minor >= 0;
ALTER TABLE place ENABLE TRIGGER USER;

CREATE TABLE cancelled_place (
  id            uuid PRIMARY KEY, -- that of the place
  booking_id    uuid NOT NULL REFERENCES booking,
  person_id     uuid NOT NULL REFERENCES person,
  concession_id uuid REFERENCES course_concession,
  credited_minor integer NOT NULL CHECK (credited_minor >= 0), -- no longer asked for, since it was unpaid
  refund_minor  integer NOT NULL CHECK (refund_minor >= 0),
  kept_minor    integer NOT NULL CHECK (kept_minor >= 0), -- of what was paid for it
  cancelled_at  timestamptz(3) NOT NULL,
  because       text NOT NULL CHECK (because <> '')
);
CREATE INDEX cancelled_place_booking_id_idx ON cancelled_place (booking_id);
CREATE INDEX cancelled_place_person_id_idx ON cancelled_place (person_id);
CREATE INDEX cancelled_place_concession_id_idx ON cancelled_place (concession_id);
CREATE TRIGGER cancelled_place_never_changes BEFORE UPDATE OR DELETE ON cancelled_place
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB004');

-- The second wall behind bookings/cancel-places.ts: a place that is gone was cancelled, and a booking keeps at least one.
CREATE FUNCTION place_goes_cancelled() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (SELECT FROM cancelled_place c WHERE c.id = OLD.id AND c.booking_id = OLD.booking_id AND c.person_id = OLD.person_id)
     OR NOT EXISTS (SELECT FROM place p WHERE p.booking_id = OLD.booking_id) THEN
    RAISE EXCEPTION 'place % is gone without being cancelled, or was the last of its booking', OLD.id USING ERRCODE = 'WB004';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER place_goes_cancelled AFTER DELETE ON place
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION place_goes_cancelled();

-- A booking may give places up more than once.
ALTER TABLE given_up DISABLE TRIGGER USER;
ALTER TABLE place_refill DISABLE TRIGGER USER;
ALTER TABLE given_up ADD id uuid;
UPDATE given_up SET id = booking_id;
ALTER TABLE place_refill ADD given_up_id uuid;
UPDATE place_refill SET given_up_id = booking_id;
ALTER TABLE place_refill DROP CONSTRAINT place_refill_booking_id_fkey;
ALTER TABLE given_up DROP CONSTRAINT given_up_pkey;
ALTER TABLE given_up ADD PRIMARY KEY (id);
ALTER TABLE given_up ADD CONSTRAINT given_up_id_booking_id_key UNIQUE (id, booking_id);
CREATE INDEX given_up_booking_id_idx ON given_up (booking_id);
ALTER TABLE place_refill ALTER given_up_id SET NOT NULL;
ALTER TABLE place_refill ADD CONSTRAINT place_refill_given_up_id_booking_id_fkey
  FOREIGN KEY (given_up_id, booking_id) REFERENCES given_up (id, booking_id);
CREATE INDEX place_refill_given_up_id_idx ON place_refill (given_up_id);
ALTER TABLE given_up ENABLE TRIGGER USER;
ALTER TABLE place_refill ENABLE TRIGGER USER;

CREATE OR REPLACE FUNCTION refill_fits() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  places_left bigint;
  minor_left bigint;
BEGIN
  SELECT places, further_minor INTO places_left, minor_left FROM given_up g WHERE g.id = NEW.given_up_id FOR NO KEY UPDATE;
  SELECT places_left - sum(places), minor_left - sum(amount_minor) INTO places_left, minor_left
    FROM place_refill r WHERE r.given_up_id = NEW.given_up_id;
  IF places_left < 0 OR minor_left < 0 THEN
    RAISE EXCEPTION 'booking % gave up fewer places, or less is due', NEW.booking_id USING ERRCODE = 'WB001';
  END IF;
  RETURN NULL;
END $$;

ALTER TYPE notice_occasion ADD VALUE 'placeCancelled';
