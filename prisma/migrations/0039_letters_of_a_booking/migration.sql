-- Ware is paid for when it is collected, a course before it begins: two sentences. What was one is taken over without those words.
ALTER TABLE studio
  ADD how_to_pay_courses text CHECK (how_to_pay_courses <> ''),
  ADD directions         text CHECK (directions <> ''); -- how to find the studio, for letters; NULL: the address is enough
UPDATE studio SET how_to_pay_courses = coalesce(
  nullif(btrim(regexp_replace(how_to_pay, ',?\s+when you (collect|pick)( it| them| your work)?( up)?', '', 'gi')), ''), how_to_pay);
ALTER TABLE studio ALTER how_to_pay_courses SET NOT NULL;

ALTER TYPE notice_occasion ADD VALUE 'placeConfirmed';
ALTER TYPE notice_occasion ADD VALUE 'holdLapsed';
ALTER TYPE notice_occasion ADD VALUE 'bookingCancelled';
ALTER TYPE notice_occasion ADD VALUE 'placeFilled';

-- The messages of a booking: of each occasion one, however often a job or a payment comes round.
CREATE TABLE booking_notice (
  booking_id uuid NOT NULL REFERENCES booking,
  occasion   notice_occasion NOT NULL,
  notice_id  uuid NOT NULL UNIQUE REFERENCES notice,
  PRIMARY KEY (booking_id, occasion)
);
CREATE TRIGGER booking_notice_never_changes BEFORE UPDATE OR DELETE ON booking_notice
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB009');
